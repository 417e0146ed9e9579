/** The part of the UCUM reference library that the unit tests ask; it ships without types. */
declare module "@lhncbc/ucum-lhc" {
  interface Conversion {
    readonly status: "succeeded" | "failed" | "error";
    readonly toVal: number | null;
    readonly msg: readonly string[];
  }
  interface UcumLhcUtils {
    convertUnitTo(from: string, value: number, to: string): Conversion;
  }
  export const UcumLhcUtils: { getInstance(): UcumLhcUtils };
}
