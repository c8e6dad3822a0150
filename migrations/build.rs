//! Rebuilds the program when a migration is added: the `migrate!` macro alone does not notice new files.

fn main() {
    println!("cargo::rerun-if-changed=migrations");
}
