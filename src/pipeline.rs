//! One call per stage. Read this first.
