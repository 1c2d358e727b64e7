// Sealed pages: opened by the key in the address and by nothing else, by the browser's own cryptography.

import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { opened, settled, WIDTHS } from "../browser.mjs";
import { accessibility } from "./accessibility.mjs";
import { sheets } from "./print.mjs";
import { choices } from "./script_off.mjs";
import { swatches } from "./swatches.mjs";
import { MOST_PACKED_SEALED, weight } from "./weight.mjs";

const CALENDAR = "BEGIN:VCALENDAR";

/** The addresses on the cards: path below public/ and key. */
export async function keys(browser, site) {
  return opened(browser, pathToFileURL(join(site.privateFolder, "cards.html")).href, { viewport: WIDTHS.desk }, async ({ page }) => {
    const printed = await page.locator(".card .address").allInnerTexts();
    const split = (text) => /(c\/[a-z2-7]{2}\/[a-z2-7]{24}\.html)#([a-z2-7]{26})$/.exec(text.replace(/\s+/g, ""));
    return printed.map(split).filter(Boolean).map(([, path, key]) => ({ path, key }));
  });
}

export async function sealed(report, browser, site, host, view) {
  const found = await keys(browser, site);
  await report.check("sealed: every card prints an address with its key", () =>
    found.length === site.pages.length && new Set(found.map(({ key }) => key)).size === found.length ? [] : [`${found.length} keys for ${site.pages.length} pages`],
  );
  await report.check("sealed: no calendar lies beside a sealed page", () => site.calendars);
  const size = ({ path }) => statSync(join(site.publicFolder, path)).size;
  const bySize = [...found].sort((one, other) => size(one) - size(other));
  for (const one of [bySize.at(-1), bySize[0], bySize[bySize.length >> 1]]) {
    const name = `sealed-${one.path.split("/").slice(1).join("").slice(0, 8)}`;
    await page(report, browser, view(name, join(site.publicFolder, one.path), `${host.origin}/${one.path}#${one.key}`), found.find(({ key }) => key !== one.key).key);
  }
}

async function page(report, browser, { name, file, address, artefact }, otherKey) {
  const bare = address.split("#")[0];
  await opened(browser, address, {}, async ({ page: open, seen }) => {
    await report.check(`${name}: its key opens it, with one request and no complaint`, async () => {
      const faults = seen.requests.length === 1 ? [...seen.complaints] : [`${seen.requests.length} requests`];
      if ((await open.locator("main.closed").count()) > 0) faults.push("it stays closed");
      const styled = await open.locator("h1").evaluate((one) => getComputedStyle(document.documentElement).getPropertyValue("--paper") !== "" && getComputedStyle(one).fontSize);
      if (!styled) faults.push("the style inside was refused");
      if (new URL(seen.requests[0]).hash.length > 0 && seen.requests[0].includes("#")) faults.push("the key was sent");
      return faults;
    });
    await open.screenshot({ path: artefact("sealed-open.png"), fullPage: true });
    await weight(report, open, { name, file }, MOST_PACKED_SEALED);
    await swatches(report, open, name);
    await accessibility(report, open, name);
    await report.check(`${name}: a jump inside the page keeps the key in the address, and a reload opens it again`, async () => {
      const before = open.url();
      await open.locator("a[href^='#']").first().click();
      const faults = open.url() === before ? [] : [`the address became ${open.url()}`];
      if ((await open.evaluate(() => scrollY)) < 100) faults.push("nothing moved");
      if (!(await open.evaluate(() => document.activeElement?.id === "care"))) faults.push("the keyboard stays behind");
      await open.reload();
      await settled(open);
      return (await open.locator("main.closed").count()) > 0 ? faults.concat("closed after a reload") : faults;
    });
    if ((await open.locator("#what-if").count()) > 0) {
      await report.check(`${name}: each choice of washes shows its own outcome`, () => choices(open));
    }
    for (const [index, link] of (await open.locator("a[download]").all()).entries()) {
      await report.check(`${name}: calendar ${index + 1} is saved from the page itself, with no address in it`, async () => {
        const [download] = await Promise.all([open.waitForEvent("download"), link.click()]);
        const text = readFileSync(await download.path(), "utf8");
        const faults = text.startsWith(CALENDAR) && text.trimEnd().endsWith("END:VCALENDAR") ? [] : [`it begins "${text.slice(0, 40)}"`];
        return /https?:|\/c\//.test(text) ? faults.concat("it holds an address") : faults;
      });
    }
    await report.check(`${name}: it prints on at most two sheets`, async () => {
      const count = sheets(await open.pdf({ format: "A4", printBackground: false }));
      return count <= 2 ? [] : [`${count} sheets`];
    });
  });
  await report.check(`${name}: today stands in its ribbon`, () =>
    opened(browser, address, {}, async ({ page: open, seen }) => {
      const dates = await open.locator(".ribbon time").evaluateAll((all) => all.map((one) => one.dateTime));
      if (dates.length < 2) return [];
      await open.clock.setFixedTime(new Date(Date.parse(dates[1]) + 60 * 60 * 60 * 1000));
      await open.reload();
      await settled(open);
      const faults = (await open.locator(".ribbon .here").count()) === 1 ? [] : ["today is not marked"];
      return faults.concat(seen.complaints);
    }),
  );
  await report.check(`${name}: opens from a file as well`, () =>
    opened(browser, `${pathToFileURL(file).href}#${address.split("#")[1]}`, {}, async ({ page: open, seen }) =>
      (await open.locator("main.closed").count()) > 0 ? ["it stays closed"] : seen.complaints,
    ),
  );
  await closed(report, browser, `${name}: without a key`, bare, "#no-key", artefact("sealed-no-key.png"));
  await closed(report, browser, `${name}: with another client's key`, `${bare}#${otherKey}`, "#not-opened");
  await closed(report, browser, `${name}: with half a key`, address.slice(0, -13), "#not-opened");
  const folder = mkdtempSync(join(tmpdir(), "afterhue-changed-"));
  try {
    const copy = join(folder, "page.html");
    writeFileSync(copy, changed(readFileSync(file, "utf8")));
    await closed(report, browser, `${name}: with one byte changed`, `${pathToFileURL(copy).href}#${address.split("#")[1]}`, "#not-opened");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  await report.check(`${name}: without script it says so in a sentence`, () =>
    opened(browser, address, { javaScriptEnabled: false }, async ({ page: open }) => {
      await open.waitForTimeout(700);
      const words = await open.locator("main").innerText();
      return /script/i.test(words) && words.length > 150 ? [] : [`"${words}"`];
    }),
  );
}

/** A page that does not open: one sentence says why, and nothing of the client is there. */
async function closed(report, browser, name, address, sentence, picture) {
  await report.check(`${name}: closed, one plain sentence, no complaint`, () =>
    opened(browser, address, {}, async ({ page: open, seen }) => {
      const faults = (await open.locator("main.closed").count()) === 1 ? [] : ["it is not closed"];
      await open.waitForTimeout(700);
      const shown = await open.locator("[role=alert]").evaluateAll((all) => all.filter((one) => one.checkVisibility()).map((one) => `#${one.id}`));
      if (shown.join() !== sentence) faults.push(`shown: ${shown.join() || "nothing"}`);
      if ((await open.locator("svg.hair, time, #care").count()) > 0) faults.push("something of the page is there");
      if (picture) {
        await open.screenshot({ path: picture });
        await accessibility({ check: async (_, look) => faults.push(...(await look())) }, open, name);
      }
      return faults.concat(seen.complaints);
    }),
  );
}

/** One sign of the closed text changed. */
function changed(html) {
  const at = html.indexOf('data-closed="') + 'data-closed="'.length + 300;
  return html.slice(0, at) + (html[at] === "A" ? "B" : "A") + html.slice(at + 1);
}
