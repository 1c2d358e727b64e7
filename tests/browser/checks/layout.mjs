// Nothing scrolls sideways and nothing is cut off: WCAG 2.2 SC 1.4.4 (text 200 %), 1.4.10 (reflow at 320), 1.4.12 (text spacing).

import { WIDTHS } from "../browser.mjs";

const NARROWEST = { width: 320, height: 844 };

/** Looks at an open page at four widths, then with text at 200 %, then with wide spacing; the page is not the same after. */
export async function layout(report, page, { name, address, artefact }) {
  await report.check(`${name}: pinch zoom is not blocked`, () => page.evaluate(pinchZoom));
  for (const viewport of [NARROWEST, WIDTHS.phone, { width: 820, height: 1180 }, WIDTHS.desk]) {
    await report.check(`${name}: no sideways scroll at ${viewport.width}`, async () => {
      await page.setViewportSize(viewport);
      return page.evaluate(cutOff);
    });
  }
  await pictures(page, artefact);
  await report.check(`${name}: text at 200 %`, async () => {
    await page.setViewportSize(WIDTHS.phone);
    await page.evaluate(doubleText);
    return page.evaluate(cutOff);
  });
  await report.check(`${name}: wide text spacing at 320`, async () => {
    await page.setViewportSize(NARROWEST);
    await page.goto(address);
    await page.evaluate(spaceText);
    return page.evaluate(cutOff);
  });
}

/** Pictures for a person to look at. */
async function pictures(page, artefact) {
  for (const [place, viewport] of Object.entries(WIDTHS)) {
    await page.setViewportSize(viewport);
    await page.screenshot({ path: artefact(`whole-${place}.png`), fullPage: true });
  }
  await page.setViewportSize(WIDTHS.phone);
  for (const colorScheme of ["dark", "light"]) {
    await page.emulateMedia({ colorScheme });
    await page.screenshot({ path: artefact(`first-screen-${colorScheme}.png`) });
  }
}

/** Runs in the page: the viewport follows the device and lets a person zoom. */
function pinchZoom() {
  const viewport = document.querySelector("meta[name=viewport]")?.content ?? "";
  if (!viewport.includes("width=device-width")) return ["no viewport of the device's width"];
  return /user-scalable\s*=\s*(no|0)|maximum-scale/.test(viewport) ? [viewport] : [];
}

/** Runs in the page: what scrolls the page sideways, and what is cut off inside a box of its own. */
export function cutOff() {
  const faults = [];
  const root = document.scrollingElement;
  if (root.scrollWidth > root.clientWidth) {
    const wide = [...document.body.querySelectorAll("*")].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1 || e.getBoundingClientRect().left < -1);
    const names = wide.slice(-3).map((e) => `${e.tagName.toLowerCase()}.${e.getAttribute("class") ?? ""}`);
    faults.push(`the page is ${root.scrollWidth} wide in ${root.clientWidth}: ${names.join(", ")}`);
  }
  for (const element of document.body.querySelectorAll("*")) {
    const style = getComputedStyle(element);
    const cuts = ["hidden", "clip"];
    if (!cuts.includes(style.overflowX) && !cuts.includes(style.overflowY)) continue;
    // Text kept for screen readers only is cut off on purpose: a box of one pixel.
    if (element.clientWidth <= 1 || element.clientHeight <= 1 || element.closest("svg")) continue;
    if (!element.textContent.trim()) continue;
    if (element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1) {
      faults.push(`cut off: ${element.tagName.toLowerCase()}.${element.className}: ${element.textContent.trim().slice(0, 60)}`);
    }
  }
  return faults;
}

/** Runs in the page: doubles every font size. Set through the object model, which a content security policy allows. */
function doubleText() {
  const sizes = [...document.querySelectorAll("body, body *")].map((e) => [e, parseFloat(getComputedStyle(e).fontSize)]);
  for (const [element, size] of sizes) element.style?.setProperty("font-size", `${size * 2}px`, "important");
}

/** Runs in the page: the spacing of SC 1.4.12. */
function spaceText() {
  for (const element of document.querySelectorAll("body, body *")) {
    element.style?.setProperty("line-height", "1.5", "important");
    element.style?.setProperty("letter-spacing", "0.12em", "important");
    element.style?.setProperty("word-spacing", "0.16em", "important");
    if (element.tagName === "P") element.style?.setProperty("margin-bottom", "2em", "important");
  }
}
