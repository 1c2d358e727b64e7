// Debian's Chromium, and a page in it that remembers what it asked for and complained about.

import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

const PLACES = [process.env.CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** The widths every page is looked at: a phone and a desk. */
export const WIDTHS = { phone: { width: 390, height: 844 }, desk: { width: 1280, height: 900 } };

/** Starts the browser. A missing browser is a failure, never a reason to skip. */
export async function launch() {
  const executablePath = PLACES.find((path) => path && existsSync(path));
  if (!executablePath) throw new Error("Chromium is missing: install Debian's package `chromium`, or set CHROMIUM");
  return chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-dev-shm-usage", "--font-render-hinting=none"] });
}

/** Opens an address in a fresh context, hands over the page and what it does, and closes the context whatever happens. */
export async function opened(browser, address, options, look) {
  const context = await browser.newContext({ viewport: WIDTHS.phone, locale: "en-GB", timezoneId: "Europe/London", ...options });
  try {
    const page = await context.newPage();
    const seen = { requests: [], failed: [], complaints: [] };
    page.on("request", (request) => request.url().startsWith("data:") || seen.requests.push(request.url()));
    page.on("requestfailed", (request) => seen.failed.push(request.url()));
    page.on("console", (line) => ["error", "warning"].includes(line.type()) && seen.complaints.push(line.text()));
    page.on("pageerror", (error) => seen.complaints.push(String(error)));
    const answer = await page.goto(address, { waitUntil: "load" });
    if (answer && !answer.ok()) throw new Error(`${address} answered ${answer.status()}`);
    if (options.javaScriptEnabled !== false) await settled(page);
    return await look({ page, seen, context });
  } finally {
    await context.close();
  }
}

/** Waits until a sealed page has opened, or says why it does not; any other page is ready at once. */
export async function settled(page) {
  await page.waitForFunction(() => {
    const lock = document.querySelector("main.closed");
    return !lock || [...lock.querySelectorAll("[role=alert]")].some((one) => !one.hidden);
  });
}
