/** A spelling that is left unread on purpose, since the trade means something else by it or several things. */
export interface UnitTrap {
  /** What to offer instead, best first. */
  readonly nearest: readonly string[];
  readonly remark: string;
}

const COULOMB: UnitTrap = {
  nearest: ["degC"],
  remark: "C alone is the coulomb, an electric charge. For a temperature write degC.",
};
const FARAD: UnitTrap = {
  nearest: ["degF"],
  remark: "F alone is the farad, a capacitance. For a temperature write degF.",
};
const DEGREES: UnitTrap = {
  nearest: ["degC", "degF"],
  remark: "Degrees of what is not said. Write degC or degF.",
};

/** Says which state a "standard" flow leaves open: 0 degC and 21.1 degC are 7.7 % apart. */
function standardFlow(actual: string): UnitTrap {
  return {
    nearest: [actual, "Pa.m3/s"],
    remark:
      `"Standard" flow means gas at 0, 15, 20, 21.1 or 25 degC, which are up to 9 % apart. ` +
      `Write the flow as it was (${actual}) with its temperature and pressure, or as a leak rate in Pa.m3/s.`,
  };
}

export const UNIT_TRAPS: ReadonlyMap<string, UnitTrap> = new Map([
  ["C", COULOMB],
  ["c", COULOMB],
  ["F", FARAD],
  ["f", FARAD],
  ["delta C", { nearest: ["delta degC"], remark: COULOMB.remark }],
  ["delta F", { nearest: ["delta degF"], remark: FARAD.remark }],
  ["deg", DEGREES],
  ["degs", DEGREES],
  ["degree", DEGREES],
  ["degrees", DEGREES],
  ["\u00b0", DEGREES],
  ["\u00b0K", { nearest: ["K"], remark: "The kelvin is written without a degree sign." }],
  ["degK", { nearest: ["K"], remark: "The kelvin is written without a degree sign." }],
  [
    "ccm",
    {
      nearest: ["cm3/min", "cm3"],
      remark: "ccm is written for cubic centimetres and for cubic centimetres per minute.",
    },
  ],
  ["sccm", standardFlow("cm3/min")],
  ["scc/min", standardFlow("cm3/min")],
  ["scc/s", standardFlow("cm3/s")],
  ["slpm", standardFlow("L/min")],
  ["SLPM", standardFlow("L/min")],
  ["slm", standardFlow("L/min")],
  ["nlpm", standardFlow("L/min")],
  ["scfm", standardFlow("ft3/min")],
  ["SCFM", standardFlow("ft3/min")],
  ["SCCM", standardFlow("cm3/min")],
]);
