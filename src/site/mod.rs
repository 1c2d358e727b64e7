//! The edge out: themes, rendering, and the only writer of pages.
