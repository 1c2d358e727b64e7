// The same pages once in Debian's Firefox, through WebDriver BiDi: layout, choice of washes, console.

import { existsSync } from "node:fs";
import puppeteer from "puppeteer-core";
import { WIDTHS } from "../browser.mjs";

const PLACES = [process.env.FIREFOX, "/usr/bin/firefox-esr", "/usr/bin/firefox"];

export async function firefox(report, views) {
  const executablePath = PLACES.find((path) => path && existsSync(path));
  if (!executablePath) {
    await report.check("Firefox is there", () => ["Firefox is missing: install Debian's package `firefox-esr`, or set FIREFOX"]);
    return;
  }
  const browser = await puppeteer.launch({ browser: "firefox", executablePath, headless: true });
  try {
    for (const view of views) await onePage(report, browser, view);
  } finally {
    await browser.close();
  }
}

async function onePage(report, browser, { name, address, artefact }) {
  const page = await browser.newPage();
  const complaints = [];
  page.on("console", (line) => ["error", "warn"].includes(line.type()) && complaints.push(line.text()));
  page.on("pageerror", (error) => complaints.push(String(error)));
  for (const [place, viewport] of Object.entries(WIDTHS)) {
    await report.check(`${name}: laid out in Firefox, ${place}`, async () => {
      await page.setViewport(viewport);
      await page.goto(address, { waitUntil: "load" });
      const faults = await page.evaluate(looked);
      await page.screenshot({ path: artefact(`firefox-${place}.png`) });
      return faults;
    });
  }
  await report.check(`${name}: no complaint in Firefox's console`, () => complaints);
  await page.close();
}

/** Runs in the page. */
function looked() {
  const faults = [];
  const root = document.scrollingElement;
  if (root.scrollWidth > root.clientWidth) faults.push(`the page is ${root.scrollWidth} wide in ${root.clientWidth}`);
  if (getComputedStyle(document.body).marginTop !== "0px") faults.push("the style sheet is not in force");
  for (const hair of document.querySelectorAll("svg.hair")) {
    if (!hair.checkVisibility()) continue;
    const { width, height } = hair.getBoundingClientRect();
    if (width < 4 || height < 4) faults.push(`a stretch of hair is ${width} by ${height}`);
  }
  const outcomes = [...document.querySelectorAll("#what-if .outcome")].filter((one) => one.checkVisibility());
  if (document.querySelector("#what-if") && outcomes.length !== 1) faults.push(`${outcomes.length} outcomes are shown`);
  if (document.querySelector("script") && CSS.supports("selector(:has(*))") !== true) faults.push("this Firefox is too old to judge");
  return faults;
}
