// Nothing scrolls sideways and nothing is cut off: WCAG 2.2 SC 1.4.4 (text 200 %), 1.4.10 (reflow at 320), 1.4.12 (text spacing).

import { opened, WIDTHS } from "../browser.mjs";

export async function layout(report, browser, { name, address, artefact }) {
  const at = (width, options = {}) => ({ viewport: { width, height: 844 }, ...options });
  for (const width of [320, WIDTHS.phone.width, 820, WIDTHS.desk.width]) {
    await report.check(`${name}: no sideways scroll at ${width}`, () =>
      opened(browser, address, at(width), async (page) => {
        await page.screenshot({ path: artefact(`${width}.png`), fullPage: true });
        return page.evaluate(cutOff);
      }),
    );
  }
  await report.check(`${name}: text at 200 %`, () =>
    opened(browser, address, at(WIDTHS.phone.width), async (page) => {
      await page.evaluate(doubleText);
      await page.screenshot({ path: artefact("text-200.png"), fullPage: true });
      return page.evaluate(cutOff);
    }),
  );
  await report.check(`${name}: wide text spacing at 320`, () =>
    opened(browser, address, at(320), async (page) => {
      await page.evaluate(spaceText);
      return page.evaluate(cutOff);
    }),
  );
  await report.check(`${name}: pinch zoom is not blocked`, () =>
    opened(browser, address, {}, (page) =>
      page.evaluate(() => {
        const viewport = document.querySelector("meta[name=viewport]")?.content ?? "";
        if (!viewport.includes("width=device-width")) return ["no viewport of the device's width"];
        return /user-scalable\s*=\s*(no|0)|maximum-scale/.test(viewport) ? [viewport] : [];
      }),
    ),
  );
  for (const colorScheme of ["light", "dark"]) {
    await opened(browser, address, { viewport: WIDTHS.phone, colorScheme }, (page) =>
      page.screenshot({ path: artefact(`first-screen-${colorScheme}.png`) }),
    );
  }
}

/** Runs in the page: what scrolls the page sideways, and what is cut off inside a box of its own. */
function cutOff() {
  const faults = [];
  const root = document.scrollingElement;
  if (root.scrollWidth > root.clientWidth) {
    const wide = [...document.body.querySelectorAll("*")].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1);
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
