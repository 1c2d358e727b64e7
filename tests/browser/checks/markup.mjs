// The markup, by a checker of its own.

import { readFileSync } from "node:fs";
import { HtmlValidate } from "html-validate";

const checker = new HtmlValidate({
  extends: ["html-validate:standard"],
  // Names and numbers a template fills in need no rule of style: only what makes a page invalid counts.
  rules: { "long-title": "off", "no-trailing-whitespace": "off", "no-inline-style": "off", "tel-non-breaking": "off" },
});

export async function markup(report, { name, file }) {
  await report.check(`${name}: valid markup`, async () => {
    const result = await checker.validateString(readFileSync(file, "utf8"), file);
    return result.results.flatMap((one) =>
      one.messages.filter((m) => m.severity === 2).map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`),
    );
  });
}
