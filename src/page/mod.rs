//! Stage 4: plain data that a template may show; every string is ready.
