#!/bin/sh
# Everything that a change must pass: what the tests need, the lints, the papers, the tests. The first that fails stops it.
set -eu
cd "$(dirname "$0")/.."
sh tests/setup.sh
cargo fmt --check
cargo clippy --locked --all-targets -- -D warnings
RUSTDOCFLAGS="-D warnings" cargo doc --locked --no-deps
cargo test --locked
