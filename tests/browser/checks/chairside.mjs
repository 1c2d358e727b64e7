// The chairside in a real browser: a visit by touch, by keyboard, without script, on two tablets, through a killed server.

import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { TODAY } from "../site.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TABLET = { viewport: { width: 820, height: 1180 }, hasTouch: true, locale: "en-GB", timezoneId: "Europe/London" };
const HOSTILE = `"><img src=x onerror=alert(1)> {{ 7*7 }} \\u0000 ''' """ # <script>alert(2)</script>`;

/** Starts the chairside on a salon folder; the answer holds its address and a way to kill it as a power cut would. */
async function served(binary, folder, port = 0) {
  const child = spawn(binary, ["chairside", folder, "--port", String(port), "--today", TODAY], { stdio: ["ignore", "pipe", "pipe"] });
  let told = "";
  const origin = await new Promise((ready, failed) => {
    const hear = (chunk) => {
      told += chunk;
      const at = /http:\/\/127\.0\.0\.1:\d+/.exec(told);
      if (at) ready(at[0]);
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("exit", (code) => failed(new Error(`the chairside ended with ${code}: ${told}`)));
  });
  const kill = () => new Promise((done) => (child.once("exit", done), child.kill("SIGKILL")));
  return { origin, kill };
}

/** Every check of the chairside, on a salon folder of its own. */
export async function chairside(report, browser, site, binary, artefact) {
  let desk = await served(binary, site.folder);
  const address = { origin: desk.origin };
  const tablet = async (options, look) => {
    const context = await browser.newContext({ ...TABLET, ...options });
    try {
      const page = await context.newPage();
      const seen = { complaints: [], elsewhere: [] };
      page.on("console", (line) => line.type() === "error" && seen.complaints.push(line.text()));
      page.on("pageerror", (error) => seen.complaints.push(String(error)));
      page.on("request", (request) => request.url().startsWith(address.origin) || request.url().startsWith("data:") || seen.elsewhere.push(request.url()));
      page.on("dialog", (dialog) => (seen.complaints.push(`dialog: ${dialog.message()}`), dialog.dismiss()));
      await page.goto(address.origin);
      const faults = await look(page, context);
      return [...faults, ...seen.complaints, ...seen.elsewhere.map((url) => `asked elsewhere: ${url}`)];
    } finally {
      await context.close();
    }
  };
  const record = (code) => join(site.folder, `records/2026/${TODAY}-${code}.toml`);
  const drafts = () => readdirSync(join(site.folder, "private/drafts")).length;
  try {
    await report.check("chairside: a visit from empty to the code by touch, 820 x 1180", () =>
      tablet({}, async (page) => {
        const faults = [];
        await page.getByRole("link", { name: "A new client" }).tap();
        await page.waitForURL(/\/client$/);
        faults.push(...(await axe(page, "a new client")));
        await page.getByLabel("First name").fill("Bríd");
        const code = await page.getByLabel(/^Code/).inputValue();
        await press(page.getByRole("group", { name: "Sixteen or over" }).getByRole("radio", { name: "yes", exact: true }));
        await press(page.getByRole("checkbox", { name: "To the service" }));
        await page.getByRole("button", { name: "Begin the visit" }).tap();
        await page.waitForURL(/\/visit\//);
        faults.push(...(await axe(page, "an empty visit")), ...(await small(page)));
        await page.getByLabel(/^To /).fill("300");
        await press(page.getByRole("radio", { name: /^9\.5 / }));
        await page.getByRole("radio", { name: "peach pastel" }).waitFor({ state: "attached" });
        await press(page.getByRole("radio", { name: "peach pastel" }));
        await page.locator("#work-0 > summary").tap();
        await press(page.locator("#work-0").getByRole("radio", { name: "direct", exact: true }));
        await page.locator("#look dt", { hasText: "Turns" }).waitFor();
        const before = await page.locator("#look dl").innerText();
        await page.locator("#place-0 > summary").tap();
        await press(page.getByRole("radio", { name: "vivid blue" }));
        await page.waitForFunction((text) => document.querySelector("#look dl")?.innerText !== text, before);
        await press(page.getByRole("radio", { name: "peach pastel" }));
        await page.waitForFunction((text) => document.querySelector("#look dl")?.innerText === text, before);
        await page.locator("#habits > summary").tap();
        await page.getByRole("button", { name: "Washes a week: 3" }).tap();
        await kept(page);
        faults.push(...(await axe(page, "a filled visit")), ...(await small(page)));
        await page.screenshot({ path: artefact("visit.png") });
        await page.getByRole("button", { name: "Finish" }).tap();
        await page.waitForURL(/at=tests/);
        await page.getByRole("link", { name: /^not recorded: alert tests, black henna/ }).waitFor();
        faults.push(...(await axe(page, "what is still to say")), ...(await small(page)));
        await page.screenshot({ path: artefact("asked.png"), fullPage: true });
        await said(page);
        await page.getByRole("button", { name: "Finish" }).tap();
        await page.waitForURL(/\/done\//);
        faults.push(...(await axe(page, "the code")), ...(await small(page)));
        await page.screenshot({ path: artefact("code.png") });
        const symbol = await page.locator("svg.code").boundingBox();
        if (symbol.width < 650) faults.push(`the code is only ${symbol.width} px wide`);
        if (!existsSync(record(code))) faults.push("there is no record");
        await page.locator(".offers button").first().tap();
        await page.getByText(/^Booked: /).waitFor();
        return faults;
      }),
    );

    await report.check("chairside: a returning client by keyboard only", () =>
      tablet({ hasTouch: false }, async (page) => {
        const faults = [];
        const tabTo = async (wanted) => {
          for (let at = 0; at < 400; at += 1) {
            await page.keyboard.press("Tab");
            if (await page.evaluate(wanted)) return;
          }
          throw new Error(`no Tab leads to ${wanted}`);
        };
        await tabTo(() => document.activeElement?.innerText?.includes("slate-02"));
        await page.keyboard.press("Enter");
        await page.waitForURL(/\/visit\//);
        if (await page.getByRole("button", { name: "The same today" }).count()) {
          await tabTo(() => document.activeElement?.value === "lightened:same");
          await page.keyboard.press("Enter");
          await page.getByRole("button", { name: "The same today" }).waitFor({ state: "detached" });
        }
        await tabTo(() => document.activeElement?.name === "hair.regrowth_mm");
        if (!(await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle !== "none"))) faults.push("the focus is not seen");
        await page.keyboard.type("18");
        await kept(page);
        await tabTo(() => document.activeElement?.matches("#place-0 > summary"));
        await page.keyboard.press("Enter");
        if (!(await page.locator("#place-0").evaluate((part) => part.open))) faults.push("Enter does not open a part");
        await tabTo(() => document.activeElement?.name?.endsWith(".stage"));
        await page.keyboard.press("ArrowRight");
        await page.keyboard.press("ArrowLeft");
        await kept(page);
        await tabTo(() => document.activeElement?.matches("#tests > summary"));
        await page.keyboard.press("Enter");
        await tabTo(() => document.activeElement?.id === "health.left_open");
        await page.keyboard.type("no time today");
        await kept(page);
        await tabTo(() => document.activeElement?.value === "finish");
        await page.keyboard.press("Enter");
        await page.waitForURL(/\/done\//);
        if (!readFileSync(record("slate-02"), "utf8").includes("regrowth_mm = 18")) faults.push("the new growth is not in the record");
        return faults;
      }),
    );

    await report.check("chairside: script off finishes a visit", () =>
      tablet({ javaScriptEnabled: false }, async (page) => {
        const faults = [];
        await page.getByRole("button", { name: /Efua/ }).tap();
        await page.waitForURL(/\/visit\//);
        await page.getByRole("button", { name: "New growth: 5 more" }).tap();
        await page.waitForURL(/at=hair/);
        if ((await page.getByRole("textbox", { name: /^New growth/ }).inputValue()) !== "5") faults.push("a stepper does not step");
        await page.locator("#place-0 > summary").tap();
        await page.getByRole("button", { name: "Split this zone" }).first().tap();
        await page.waitForURL(/at=place-0/);
        await page.goBack();
        await page.goForward();
        await page.getByRole("button", { name: "Merge with the next" }).first().tap();
        await said(page);
        await page.getByRole("button", { name: "Finish" }).tap();
        await page.waitForURL(/\/done\/|tried/);
        if (!/\/done\//.test(page.url())) faults.push(await page.locator("#faults").innerText());
        return faults;
      }),
    );

    await report.check("chairside: the book and a hair's story by touch", () =>
      tablet({}, async (page) => {
        const faults = [...(await axe(page, "the first page")), ...(await small(page))];
        await page.getByRole("link", { name: "The book" }).tap();
        await page.getByRole("heading", { name: /^Today/ }).waitFor();
        faults.push(...(await axe(page, "the book")), ...(await small(page)));
        await page.screenshot({ path: artefact("book.png"), fullPage: true });
        await page.getByRole("button", { name: "Who could come?" }).tap();
        await page.waitForURL(/minutes=/);
        faults.push(...(await axe(page, "a free time")));
        await page.goto(`${address.origin}/story/wren-04`);
        await page.getByRole("heading", { name: "Then and now" }).waitFor();
        faults.push(...(await axe(page, "a story")), ...(await small(page)));
        await page.screenshot({ path: artefact("story.png"), fullPage: true });
        for (const wish of ["A new link", "A copy of everything", "To be forgotten"]) {
          await page.getByRole("link", { name: wish }).tap();
          await page.getByRole("link", { name: "No, change nothing" }).waitFor();
          faults.push(...(await axe(page, wish)), ...(await small(page)));
          await page.screenshot({ path: artefact(`${wish.toLowerCase().replaceAll(" ", "-")}.png`), fullPage: true });
          await page.getByRole("link", { name: "No, change nothing" }).tap();
          await page.getByRole("heading", { name: "Then and now" }).waitFor();
        }
        await page.getByRole("button", { name: /^Correct this visit/ }).last().tap();
        await page.getByRole("group", { name: /is corrected: the one before is kept/ }).waitFor();
        faults.push(...(await axe(page, "a correction")), ...(await small(page)));
        await page.screenshot({ path: artefact("correct.png") });
        await page.goto(`${address.origin}/book`);
        await page.locator("iframe.board").scrollIntoViewIfNeeded();
        await page.frameLocator("iframe.board").getByRole("table").first().waitFor();
        const wide = await page.locator("iframe.board").evaluate((frame) => {
          const wider = (one) => one.scrollWidth > one.clientWidth + 1;
          return [...frame.contentDocument.querySelectorAll("html, .week .scroll, .slot")].filter(wider).map((one) => `${one.className}: ${one.scrollWidth} of ${one.clientWidth}`);
        });
        faults.push(...wide.map((line) => `the board is cut in its frame: ${line}`));
        await page.goto(`${address.origin}/board`);
        await page.getByRole("table").first().waitFor();
        faults.push(...(await axe(page, "the board")));
        return faults;
      }),
    );

    await report.check("chairside: two tablets finish one client, both versions stay", () =>
      tablet({}, (one) =>
        tablet({}, async (other) => {
          const faults = [];
          for (const page of [one, other]) {
            await page.getByRole("button", { name: /Halla/ }).tap();
            await page.waitForURL(/\/visit\//);
            await page.locator("#last > summary").tap();
            await page.getByLabel(/A note to the client/).fill(page === one ? "first tablet" : "second tablet");
            await kept(page);
            await said(page);
          }
          await one.getByRole("button", { name: "Finish" }).tap();
          await one.waitForURL(/\/done\//);
          await other.getByRole("button", { name: "Finish" }).tap();
          await other.getByRole("heading", { name: "Two versions of one visit" }).waitFor();
          faults.push(...(await axe(other, "the conflict")));
          if (!readFileSync(record("otter-23"), "utf8").includes("first tablet")) faults.push("the first was written over");
          await other.getByRole("button", { name: "Take this one" }).tap();
          await other.waitForURL(/\/done\//);
          const aside = readdirSync(join(site.folder, "private/set-aside")).map((name) => readFileSync(join(site.folder, "private/set-aside", name), "utf8"));
          if (!aside.some((text) => text.includes("first tablet"))) faults.push("the first version is gone");
          return faults;
        }),
      ).then((faults) => faults.filter((fault) => !/409/.test(fault))),
    );

    await report.check("chairside: hostile words are words everywhere", () =>
      tablet({}, async (page) => {
        const faults = [];
        await page.getByRole("button", { name: /Oda|Brid/ }).first().tap();
        await page.waitForURL(/\/visit\//);
        for (const part of await page.locator("details").all()) await part.evaluate((one) => one.removeAttribute("name") ?? (one.open = true));
        for (const field of await page.locator("form input:not([type]), form textarea").all()) await field.fill(HOSTILE);
        await kept(page);
        await page.reload();
        const lost = await page.evaluate((text) => [...document.querySelectorAll("form input:not([type]), form textarea")].filter((one) => one.value !== text).map((one) => one.name), HOSTILE);
        faults.push(...lost.map((name) => `lost in ${name}`));
        await page.getByRole("button", { name: "Finish" }).tap();
        await page.waitForURL(/tried/);
        faults.push(...(await axe(page, "every field at fault")));
        return faults;
      }),
    );

    await report.check("chairside: the server is killed in the middle, the draft is there again", () =>
      tablet({}, async (page) => {
        const faults = [];
        await page.getByRole("button", { name: /Tamsin/ }).tap();
        await page.waitForURL(/\/visit\//);
        await page.locator("#last > summary").tap();
        await page.getByLabel(/A note to the client/).fill("before the cut");
        await kept(page);
        const port = new URL(address.origin).port;
        await desk.kill();
        await page.getByLabel(/A note to the client/).fill("while it was away");
        await page.getByText(/^Not kept/).waitFor();
        desk = await served(binary, site.folder, port);
        await page.locator("#kept", { hasText: /^Kept$/ }).waitFor({ timeout: 20000 });
        await page.reload();
        if ((await page.getByLabel(/A note to the client/).inputValue()) !== "while it was away") faults.push("what was typed meanwhile is lost");
        await desk.kill();
        desk = await served(binary, site.folder, port);
        await page.reload();
        if ((await page.getByLabel(/A note to the client/).inputValue()) !== "while it was away") faults.push("the draft is lost");
        return faults;
      }).then((faults) => faults.filter((fault) => !/ERR_CONNECTION/.test(fault))),
    );

    await report.check("chairside: a page elsewhere cannot change anything, nor look in", () =>
      tablet({}, async (page, context) => {
        const before = drafts();
        const evil = await context.newPage();
        await evil.route("http://evil.example/**", (route) =>
          route.fulfill({ contentType: "text/html", body: `<form method="post" action="${address.origin}/start/wren-04"><button>x</button></form>` }),
        );
        await evil.goto("http://evil.example/");
        const url = `${address.origin}/`;
        const read = await evil.evaluate((url) => fetch(url, { credentials: "include" }).then((r) => r.text(), () => "refused"), url);
        const blind = await evil.evaluate((url) => fetch(url, { method: "POST", mode: "no-cors", body: "csrf=1" }).then((r) => r.type, () => "refused"), `${url}start/wren-04`);
        const framed = await evil.evaluate((url) => new Promise((done) => {
          const frame = document.body.appendChild(document.createElement("iframe"));
          frame.onload = () => { try { done(frame.contentDocument?.body?.innerText ?? "closed"); } catch { done("closed"); } };
          frame.src = url;
          setTimeout(() => done("closed"), 3000);
        }), url);
        const [answer] = await Promise.all([evil.waitForResponse(/\/start\//), evil.getByRole("button").click()]);
        const faults = answer.status() === 403 ? [] : [`a foreign form was answered ${answer.status()}`];
        if (drafts() !== before) faults.push("a draft was begun");
        if (read !== "refused") faults.push(`a foreign page read ${read.slice(0, 80)}`);
        if (!["refused", "opaque"].includes(blind)) faults.push(`a blind change was answered as ${blind}`);
        if (framed.includes("wren-04")) faults.push("a frame showed the list");
        return faults.concat(await page.evaluate(() => (document.cookie === "" ? [] : ["script sees the cookie"])));
      }),
    );
  } finally {
    await desk.kill();
  }
}

/** A radio or a tick lies unseen under its label: a thumb hits it there. */
async function press(control) {
  await control.evaluate((one) => one.scrollIntoView({ block: "center" }));
  await control.tap({ force: true });
}

/** Opens a part of the form, with or without script. */
async function part(page, id) {
  if (!(await page.locator(`#${id}[open]`).count())) await page.locator(`#${id} > summary`).tap();
}

/** What must be said before a visit is written: lightening as last time, the questions left open with the reason. */
async function said(page) {
  const same = page.getByRole("button", { name: "The same today", includeHidden: true });
  if (await same.count()) {
    await part(page, "hair");
    await same.tap();
    await same.waitFor({ state: "detached" });
  }
  await part(page, "tests");
  await page.getByRole("button", { name: "Left open, because: Did not want to say" }).tap();
  await page.waitForTimeout(400);
  await page.locator("[id='health.left_open']").waitFor();
}

async function kept(page) {
  await page.waitForTimeout(150);
  await page.locator("#kept", { hasText: /^Kept$/ }).waitFor();
}

async function axe(page, name) {
  await page.evaluate(AXE);
  const faults = [];
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    const result = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"] }));
    if (result.passes.length < 5) faults.push(`axe ran only ${result.passes.length} rules on ${name}`);
    faults.push(...result.violations.map((rule) => `${name}, ${colorScheme}: ${rule.id}: ${rule.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`));
  }
  await page.emulateMedia({ colorScheme: "light" });
  return faults;
}

/** Everything to tap is at least 44 px high and wide (WCAG 2.2, 2.5.5, AAA), but for links inside a sentence. */
function small(page) {
  return page.evaluate(() =>
    [...document.querySelectorAll("button, summary, input:not([type=hidden]), textarea, .button")]
      .filter((one) => one.checkVisibility() && !one.closest(".first") && !one.matches(".first"))
      .map((one) => [one, (one.matches("[type=radio], [type=checkbox]") ? one.closest("label") : one).getBoundingClientRect()])
      .filter(([, box]) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
      .map(([one, box]) => `small: ${one.name || one.innerText || one.tagName} ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`),
  );
}
