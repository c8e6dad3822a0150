#!/bin/sh
# Puts on this machine what the tests need and is not there yet: a browser, poppler's tools, qpdf and ssh-keygen.
set -eu
need=""
command -v chromium >/dev/null 2>&1 || need="$need chromium"
command -v qpdf >/dev/null 2>&1 || need="$need qpdf"
command -v ssh-keygen >/dev/null 2>&1 || need="$need openssh-client"
command -v pdftotext >/dev/null 2>&1 || need="$need poppler-utils"
if [ -n "$need" ]; then
    as_root=""
    [ "$(id -u)" = 0 ] || as_root="sudo"
    $as_root apt-get update
    # shellcheck disable=SC2086
    $as_root apt-get install -y --no-install-recommends $need
fi
# The lints and the formatter come with most toolchains; where one does not have them, its own installer brings them.
cargo clippy --version >/dev/null 2>&1 && cargo fmt --version >/dev/null 2>&1 || rustup component add clippy rustfmt
