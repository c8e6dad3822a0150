//! What several rooms show or ask: pictures, verdicts, plans, the shop's own figures.

pub(crate) mod book_choices;
pub(crate) mod drawn_over;
pub(crate) mod headed;
pub(crate) mod judged;
pub(crate) mod located;
pub(crate) mod picture;
pub(crate) mod plans;
pub(crate) mod pointed;
pub(crate) mod posted;
pub(crate) mod sent_photo;
pub(crate) mod shop_figures;
pub(crate) mod twin;
pub(crate) mod under_way;
pub(crate) mod weld_lines;
