// A leaked address is the only way in, and the page tells nobody that it was opened.

import { readFileSync } from "node:fs";

/** What an open page asked for, said and kept. Looked at last, when everything else was done to the page. */
export async function quiet(report, { page, seen, context }, { name, address }, place) {
  await report.check(`${name}: one request, none to another place, no complaint, ${place}`, async () => {
    const origin = new URL(address).origin;
    const faults = seen.complaints.map((line) => `console: ${line}`);
    if (seen.requests.length !== 1) faults.push(`${seen.requests.length} requests: ${seen.requests.join(" ")}`);
    faults.push(...seen.requests.filter((url) => !url.startsWith(origin)).map((url) => `left the place: ${url}`));
    return faults.concat(seen.failed.map((url) => `failed: ${url}`));
  });
  await report.check(`${name}: no cookie, no storage, no service worker, ${place}`, async () => {
    const kept = await page.evaluate(async () => ({
      local: localStorage.length,
      session: sessionStorage.length,
      databases: (await indexedDB.databases()).length,
      caches: globalThis.caches ? (await caches.keys()).length : 0,
      workers: (await navigator.serviceWorker?.getRegistrations?.())?.length ?? 0,
      cookies: document.cookie.length,
    }));
    kept.cookies += (await context.cookies()).length;
    return Object.entries(kept).filter(([, count]) => count > 0).map(([what, count]) => `${what}: ${count}`);
  });
}

/** The head of an open page, and the names in its file. */
export async function discreet(report, page, { name, file }, site) {
  await report.check(`${name}: the head keeps the page to itself`, () => head(page));
  await report.check(`${name}: the title and the head name nobody`, () => named(file, site));
}

async function head(page) {
  const found = await page.evaluate(() => {
    const meta = (selector) => document.head.querySelector(selector)?.content ?? "";
    const children = [...document.head.children];
    const policyAt = children.findIndex((e) => e.httpEquiv?.toLowerCase() === "content-security-policy");
    return {
      robots: meta("meta[name=robots]"),
      referrer: meta("meta[name=referrer]"),
      policy: meta('meta[http-equiv="Content-Security-Policy" i]'),
      beforePolicy: children.slice(0, policyAt < 0 ? 0 : policyAt).map((e) => e.outerHTML.slice(0, 80)),
      lang: document.documentElement.lang,
      dir: document.documentElement.dir,
      handlers: [...document.querySelectorAll("*")].flatMap((e) => [...e.attributes].filter((a) => a.name.startsWith("on")).map((a) => a.name)),
      links: [...document.querySelectorAll("[href], [src]")].map((e) => e.getAttribute("href") ?? e.getAttribute("src")),
      dataIcon: !!document.head.querySelector('link[rel~=icon][href^="data:"]'),
    };
  });
  const faults = [];
  for (const word of ["noindex", "nofollow", "noarchive"]) if (!found.robots.includes(word)) faults.push(`robots without ${word}`);
  if (found.referrer !== "no-referrer") faults.push(`referrer is "${found.referrer}"`);
  for (const part of ["default-src 'none'", "base-uri 'none'", "form-action 'none'"]) {
    if (!found.policy.includes(part)) faults.push(`the policy lacks ${part}`);
  }
  if (/unsafe-|https?:|\*/.test(found.policy)) faults.push(`the policy is open: ${found.policy}`);
  const early = found.beforePolicy.filter((tag) => !tag.startsWith("<meta"));
  if (early.length > 0) faults.push(`before the policy stands ${early.join(" ")}`);
  if (!/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/.test(found.lang)) faults.push(`lang is "${found.lang}"`);
  if (!["ltr", "rtl"].includes(found.dir)) faults.push(`dir is "${found.dir}"`);
  if (found.handlers.length > 0) faults.push(`inline handlers: ${found.handlers.join(" ")}`);
  if (!found.dataIcon) faults.push("no icon inside the page: a browser would ask for /favicon.ico");
  const outward = found.links.filter((link) => /^(https?:)?\/\//.test(link) || /^javascript:/i.test(link));
  return faults.concat(outward.map((link) => `links outward: ${link}`));
}

/** The head never names the client, by name or by code; the body only when the client wants it. */
function named(file, site) {
  const text = readFileSync(file, "utf8");
  const [, headText, bodyText] = /<head[^>]*>([\s\S]*?)<\/head>([\s\S]*)/.exec(text);
  const title = /<title>([\s\S]*?)<\/title>/.exec(headText)?.[1] ?? "";
  const faults = title.length >= 5 && title.length <= 70 ? [] : [`the title has ${title.length} characters`];
  const prose = headText.replace(/<(style|script)[\s\S]*?<\/\1>/g, "");
  const body = bodyText.replace(/<(style|script)[\s\S]*?<\/\1>/g, "");
  for (const { code, firstName, shown } of site.clients) {
    const word = firstName && new RegExp(`(?<![\\p{L}-])${firstName}(?![\\p{L}-])`, "u");
    if (word?.test(prose) || prose.includes(code)) faults.push(`the head names ${code}`);
    if (body.includes(code)) faults.push(`the body names ${code}`);
    if (!shown && word?.test(body)) faults.push(`the body calls ${code} by name, who did not want it`);
  }
  return faults;
}
