//! A book begun with nothing in it, and what most books begin with as short forms: its head, its class table, the bars it
//! asks for.

mod bars;
mod classes;
mod head;
mod rule;

pub use bars::NeededBars;
pub use classes::{ClassRow, ClassTable};
pub use head::NewBook;
pub use rule::Source;
