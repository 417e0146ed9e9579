// The rules about moisture and electrical supplies at their edges. Figures without a source are invented.
import { describe, expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

interface Options {
  readonly head?: string;
  readonly after?: string;
  readonly shop?: string;
}

function findings(lines: string, { head = "", after = "", shop }: Options = {}) {
  const text = `---\njob: test\n${head}---\n\n\`\`\`readings\n${lines}\n\`\`\`\n${after}`;
  return analyzeText(text, { shop }).findings.filter((one) => /^(?:moisture|electrical)\//.test(one.rule));
}
const ids = (lines: string, options: Options = {}) =>
  findings(lines, options).map((one) => `${one.severity} ${one.rule}`);
const steps = (text: string) => `\n\`\`\`steps\n${text}\n\`\`\`\n`;
const limits = (text: string) => `\n\`\`\`limits\n${text}\n\`\`\`\n`;

describe("moisture/not-dry", () => {
  const wet =
    "inside temperature: 24.0 degC at 12:10\ninside humidity: 60 % at 12:10\ncoldest surface: 5 degC";

  test("works out the dew point itself where the note does not", () => {
    // 24 °C at 60 % has its dew point near 15.8 °C (ASHRAE's equations).
    expect(ids(wet)).toEqual(["warning moisture/not-dry"]);
    expect(findings(wet)[0]?.message).toContain("15.");
    expect(ids(wet.replace("60 %", "20 %"))).toEqual([]);
  });

  test("is one finding when the note works it out too", () => {
    expect(ids(`${wet}\ninside dew point [degC] = dew point(inside temperature, inside humidity)`)).toEqual([
      "warning moisture/not-dry",
    ]);
  });

  test("takes the dew point equal to the surface as wet", () => {
    expect(ids("inside dew point: 5.0 degC\ncoldest surface: 5.0 degC")).toHaveLength(1);
    expect(ids("inside dew point: 4.9 degC\ncoldest surface: 5.0 degC")).toHaveLength(0);
    expect(ids("inside dew point: 41.0 degF\ncoldest surface: 4.9 degC")).toHaveLength(1);
  });

  test("does not speak of readings before a drying that comes later", () => {
    const head = "procedure: lamp-moisture\ndate: 2031-03-04\n";
    const later = steps("12:20  dry: fan 40 degC until 14:00");
    const before = steps("09:00  dry: fan 40 degC until 11:00");
    const planned = steps("09:00  dry: fan 40 degC until 11:00\n--:--  dry");
    expect(ids(wet, { head, after: later })).toEqual([]);
    expect(ids(wet, { head, after: planned })).toEqual([]);
    expect(ids(wet, { head, after: before })).toEqual(["warning moisture/not-dry"]);
  });

  test("looks at the bay's air never", () => {
    expect(ids("bay dew point: 12 degC\ncoldest surface: 5 degC")).toEqual([]);
  });
});

describe("moisture/too-hot", () => {
  const head = "procedure: lamp-moisture\ndate: 2031-03-04\n";
  const dry = (temperature: string, more: Options = {}) =>
    ids("lens area: 300 cm2", {
      head,
      ...more,
      after: `${more.after ?? ""}${steps(`08:50  dry: warm air ${temperature}`)}`,
    });

  test("warns above 60 degC and stops above 80 degC; the figures themselves still pass", () => {
    expect(dry("60 degC")).toEqual([]);
    expect(dry("61 degC")).toEqual(["warning moisture/too-hot"]);
    expect(dry("80 degC")).toEqual(["warning moisture/too-hot"]);
    expect(dry("177 degF")).toEqual(["error moisture/too-hot"]);
  });

  test("takes the highest of several temperatures", () => {
    expect(dry("40 degC, then 85 degC")).toEqual(["error moisture/too-hot"]);
  });

  test("lets the note's own limit go first: lower always, higher only with its source", () => {
    const own = (text: string) => ({ after: limits(text) });
    expect(dry("55 degC", own("drying temperature <= 50 degC"))).toContain("error moisture/too-hot");
    expect(dry("70 degC", own("drying temperature <= 90 degC"))).toContain("warning moisture/too-hot");
    const raised = "drying temperature: 42 degC";
    const sourced = limits("drying temperature <= 90 degC   source: service information for this lamp");
    expect(ids(raised, { head, after: `${sourced}${steps("08:50  dry: warm air 70 degC")}` })).toEqual([
      "info moisture/too-hot",
    ]);
    expect(ids(raised, { head, after: `${sourced}${steps("08:50  dry: warm air 95 degC")}` })).toEqual([
      "error moisture/too-hot",
    ]);
  });

  test("lets the shop's limit go before the built-in one", () => {
    const shop = "limits:\n  - { reading: drying temperature, warn above: 45 degC, error above: 50 degC }\n";
    expect(dry("48 degC", { shop })).toEqual(["warning moisture/too-hot"]);
    expect(dry("52 degC", { shop })).toEqual(["error moisture/too-hot"]);
    expect(ids("drying temperature: 52 degC", { head, shop })).toEqual(["error moisture/too-hot"]);
  });

  test("leaves a reading over the note's own limit to that limit", () => {
    expect(
      ids("drying temperature: 55 degC", { head, after: limits("drying temperature <= 50 degC") }),
    ).toEqual([]);
  });
});

describe("electrical/supply-overload", () => {
  test("holds the greatest of several readings against the fuse", () => {
    expect(ids("supply current: 9.1, 10.2, 9.2 A\nfuse: 10 A")).toEqual(["error electrical/supply-overload"]);
    expect(ids("supply current: 9.1, 10.0, 9.2 A\nfuse: 10 A")).toEqual([]);
  });

  test("pairs what has a name of its own", () => {
    expect(ids("lamp current: 12 A\nlamp fuse: 10 A")).toHaveLength(1);
    expect(ids("lamp current: 12 A\nradio fuse: 10 A")).toEqual([]);
    expect(ids("lamp current: 12 A\nfuse drop: 2 mV\nfuse resistance: 7 mΩ")).toEqual([]);
  });

  test("keeps labelled blocks apart, and shares what has no label", () => {
    const after =
      "\n```readings A\nsupply current: 12 A\n```\n\n```readings B\nsupply current: 8 A\nfuse: 7.5 A\n```\n";
    const found = findings("supply rating: 10 A", { after });
    expect(found.map((one) => one.message.slice(0, 20))).toEqual([
      "`A supply current` t",
      "`B supply current` t",
    ]);
    expect(found[1]?.message).toContain("`B fuse`");
  });

  test("turns amperes into watts through the supply voltage", () => {
    const lines = (voltage: string) =>
      `supply current: 9 A\nsupply voltage: ${voltage}\nconverter rating: 120 W`;
    expect(ids(lines("13.0 V"))).toEqual([]);
    expect(ids(lines("13.5 V"))).toEqual(["error electrical/supply-overload"]);
  });
});

describe("electrical/battery-budget", () => {
  const lines = (time: string, more = "") =>
    `battery capacity: 70 A.h\nsupply current: 9.2 A\nrunning time: ${time}${more}`;

  test("compares what is left with 60 %, or the note's own reserve", () => {
    expect(ids(lines("1 h"))).toEqual([]);
    expect(ids(lines("3 h"))).toEqual(["warning electrical/battery-budget"]);
    expect(ids(lines("3 h", "\nreserve: 20 %"))).toEqual([]);
    expect(findings(lines("3 h"))[0]?.message).toContain("60 %");
  });

  test("starts from the charge that the note gives", () => {
    expect(ids(lines("1 h", "\nbattery charge: 70 %"))).toEqual(["warning electrical/battery-budget"]);
  });

  test("believes a note that names another supply", () => {
    expect(ids(lines("6 h", "\nsupply: bench supply"))).toEqual([]);
    expect(ids(lines("6 h", "\nsupply: battery of the van"))).toHaveLength(1);
  });

  test("takes what the note works out itself, once", () => {
    const own = "\nleft [%] = reserve left(battery capacity, supply current, running time)";
    const found = findings(lines("3 h", own));
    expect(found).toHaveLength(1);
    expect(found[0]?.rule).toBe("electrical/battery-budget");
  });

  test("does not take the time that the battery allows for the time that the work takes", () => {
    const own =
      "battery capacity: 70 A.h\nsupply current: 9.2 A\nrunning time [h] = run time(battery capacity, supply current, reserve: 30 %)";
    expect(ids(own)).toEqual([]);
  });
});
