// What was checked and how it went: one line a check, one closing line.

export class Report {
  passed = 0;
  failed = 0;

  /** Runs one check. `look` returns a list of what is wrong; an empty list passes, and so does nothing else. */
  async check(name, look) {
    let faults;
    try {
      faults = await look();
      if (!Array.isArray(faults)) faults = ["the check returned no list of faults"];
    } catch (error) {
      faults = [String(error?.stack ?? error)];
    }
    if (faults.length === 0) {
      this.passed += 1;
      console.log(`ok    ${name}`);
      return;
    }
    this.failed += 1;
    console.log(`FAIL  ${name}`);
    for (const fault of faults.slice(0, 12)) console.log(`        ${String(fault).slice(0, 600)}`);
    if (faults.length > 12) console.log(`        and ${faults.length - 12} more`);
  }

  /** Prints the closing line; the result is the exit code. */
  close() {
    console.log(`\n${this.passed} passed, ${this.failed} failed`);
    return this.failed === 0 && this.passed > 0 ? 0 : 1;
  }
}
