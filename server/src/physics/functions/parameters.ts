/** Short ways to write down the parameters that many functions share. */
import type { Dimension } from "../../units/dimension.ts";
import { NONE, PRESSURE, TEMPERATURE } from "../../units/dimension.ts";
import type { MaterialFigure, Optional, Parameter } from "../function.ts";
import { GAS_NAMES } from "../gas.ts";

const withOptional = (parameter: Parameter, optional?: Optional): Parameter =>
  optional ? { ...parameter, optional } : parameter;

/** A quantity without a scale of its own; an empty unit stands for a plain number. */
export const quantity = (
  name: string,
  dimension: Dimension,
  unit: string,
  says: string,
  optional?: Optional,
): Parameter =>
  withOptional(
    { name, says, takes: { kind: "quantity", dimension, scale: "plain", ...(unit ? { unit } : {}) } },
    optional,
  );

/** A plain number or percentage. */
export const share = (name: string, says: string, optional?: Optional): Parameter =>
  quantity(name, NONE, "%", says, optional);

export const gaugePressure = (name: string, says: string, unit = "kPa"): Parameter => ({
  name,
  says,
  takes: { kind: "quantity", dimension: PRESSURE, scale: "gauge", unit },
});

export const absolutePressure = (name: string, says: string, optional?: Optional): Parameter =>
  withOptional(
    { name, says, takes: { kind: "quantity", dimension: PRESSURE, scale: "absolute", unit: "kPa(a)" } },
    optional,
  );

export const temperature = (name: string, says: string, optional?: Optional): Parameter =>
  withOptional(
    { name, says, takes: { kind: "quantity", dimension: TEMPERATURE, scale: "point", unit: "degC" } },
    optional,
  );

export const ambient = (name = "ambient"): Parameter =>
  absolutePressure(name, "ambient pressure, absolute", { from: "ambient pressure" });

export const ROOM_TEMPERATURE: Optional = {
  value: 20,
  unit: "degC",
  tolerance: 10,
  says: "20 degC ± 10 K, as no gas temperature was given",
};

export const NOTHING: Optional = { from: "nothing" };

/** The argument is taken from a named material's data sheet where the call does not give it. */
export const ofMaterial = (parameter: Parameter, figure: MaterialFigure): Parameter => ({
  ...parameter,
  ofMaterial: figure,
});

export const materialNamed: Parameter = {
  name: "material",
  says: "a material of the shop file, whose data sheet gives what is left out",
  takes: { kind: "material" },
  optional: NOTHING,
};

export const gasChoice: Parameter = {
  name: "gas",
  says: "air, nitrogen, carbon dioxide or argon",
  takes: { kind: "choice", of: GAS_NAMES },
  optional: { choice: "air", says: "air" },
};

export const discharge: Parameter = quantity("discharge", NONE, "", "discharge coefficient of the hole", {
  value: 0.6,
  unit: "1",
  tolerance: 0.1,
  says: "discharge coefficient 0.6 ± 0.1, an equivalent sharp-edged hole",
});

export const humidity = (name: string, says: string, optional?: Optional): Parameter =>
  share(name, says, optional);
