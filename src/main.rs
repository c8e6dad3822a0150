//! The program: starts writing about itself, then does what it was called for.

use std::process::ExitCode;

#[tokio::main]
async fn main() -> ExitCode {
    tackbook::telemetry::start();
    tackbook::cli::run().await
}
