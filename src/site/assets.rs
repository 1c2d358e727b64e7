//! What stands beside the pages: headers for hosts that read them.

/// A `_headers` file. Hosts that know it send these with every page; on others it does no harm, for the pages carry what they need themselves.
pub const HEADERS: &str = "\
/*
  X-Robots-Tag: noindex, nofollow, noarchive
  Referrer-Policy: no-referrer
  X-Content-Type-Options: nosniff
  Content-Security-Policy: frame-ancestors 'none'
  Cache-Control: private, max-age=0, must-revalidate
/c/*.ics
  Content-Type: text/calendar; charset=utf-8
";
