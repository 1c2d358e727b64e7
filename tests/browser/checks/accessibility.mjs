// axe-core: WCAG 2.0 to 2.2, levels A and AA, and its best practices.

import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { WIDTHS } from "../browser.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"];

/** Runs axe on an open page, light and dark, on a phone and a desk unless only one is asked for. */
export async function accessibility(report, page, name, places = Object.keys(WIDTHS)) {
  // Evaluated by the browser's own protocol, so that the page's content security policy stays in force.
  await page.evaluate(AXE);
  for (const place of places) {
    for (const colorScheme of ["light", "dark"]) {
      await report.check(`${name}: axe finds nothing, ${place}, ${colorScheme}`, async () => {
        await page.setViewportSize(WIDTHS[place]);
        await page.emulateMedia({ colorScheme });
        const result = await page.evaluate((tags) => globalThis.axe.run(document, { runOnly: tags }), TAGS);
        if (result.passes.length < 5) return [`axe ran only ${result.passes.length} rules`];
        return result.violations.map(
          (rule) => `${rule.id}: ${rule.help}: ${rule.nodes.map((node) => node.target.join(" ")).slice(0, 4).join(" | ")}`,
        );
      });
    }
  }
  await page.emulateMedia({ colorScheme: "light" });
}
