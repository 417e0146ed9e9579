/**
 * What every derived value of every sample must be, worked out apart from the project. Readings are typed
 * in again here on purpose: a value read wrongly must not agree with itself.
 */
import {
  type Check,
  GAS,
  GUM,
  NOZZLE,
  number,
  psychro,
  SHOP_AMBIENT,
  size,
  standing,
  units,
} from "./check-forms.ts";
import {
  decayLeakRate,
  deviation,
  dewPoint,
  flowPerArea,
  inUnit,
  KELVIN,
  leastSquaresSlope,
  mean,
  NITROGEN,
  peukert,
  relativeHumidity,
  sealedPressure,
  si,
  strandedCopper,
} from "./independent.ts";

const evapDecay = (start: string, end: string, celsius: number) =>
  number(
    "Pa.m3/s",
    decayLeakRate({
      volume: 0.038,
      start: si(start),
      end: si(end),
      seconds: 120,
      ambient: 98600,
      startKelvin: celsius + KELVIN,
      endKelvin: celsius + KELVIN,
    }),
    GAS,
  );

const sensor = (volts: number) => 20 + ((110 - 20) * (volts - 0.5)) / (4.5 - 0.5);
const STRAIGHT_LINE = "straight line through the two points of the sensor's label";

const pressuresA = [12.4, 12.5, 12.4, 12.6, 12.5];
const pressuresB = [13.7, 13.2, 13.9, 13.4, 13.6];
const flowsA = [0.48, 0.5, 0.49, 0.49, 0.48];
const flowsB = [0.53, 0.5, 0.54, 0.51, 0.52];
const currentsA = [6.1, 6.2, 6.1];
const currentsB = [9.1, 9.3, 9.2];
const lampCurrents = [8.4, 8.6, 8.5, 8.5];
const PEUKERT = "Peukert's law with the rated time";

const trailerWire = mean(lampCurrents) * 2 * strandedCopper(7.2, 2.5, 24);
const trailerLost = 13.62 - 10.94;
const beaconLost = 12.62 - 10.9;
const beaconWire = 5.6 * 2 * strandedCopper(6.4, 1.5, 22);
const COPPER = "annealed copper, NEC chapter 9, table 8 within 0.5 %";

const vapourCooling = () => {
  const gauge = si("16 inH2O");
  const after = sealedPressure(gauge, SHOP_AMBIENT, 17.2 + KELVIN, 17 + KELVIN);
  return (gauge - after) / si("1 inH2O");
};

/** The bench note has its own barometer. */
const BENCH_AMBIENT = 98_900;
const benchFlow = () => {
  const drop = si(`${mean(pressuresA)} inH2O`);
  const perArea = flowPerArea({ drop, upstream: BENCH_AMBIENT + drop, kelvin: 22 + KELVIN });
  return perArea * (Math.PI / 4) * 0.0005 ** 2 * 60_000;
};
/** By file, then by name. Values that rest on a mistake of the sample have none and are listed as such. */
export const DERIVED: Readonly<Record<string, Readonly<Record<string, Check>>>> = {
  "rear-lamp.md": {
    "lens force": units("N", "0.80 psi * 310 cm^2"),
    "leak size": size("0.42 L/minute", "0.80 psi"),
    "bay dew point": psychro("degC", dewPoint(19.5, 0.61), 0.002),
    "pressure if capped": standing(
      "psi",
      sealedPressure(0, SHOP_AMBIENT, 19.5 + KELVIN, 42 + KELVIN) / si("1 psi"),
    ),
    "inside dew point": psychro("degC", dewPoint(26, 0.12), 0.002),
  },
  "fuel-vapour-van.md": {
    "leak before": evapDecay("13.2 inH2O", "8.1 inH2O", 18.4),
    "hole before": size("0.61 L/minute", "13.2 inH2O", 18.4, 98600, NITROGEN),
    "hole before in inches": {
      ...size("0.61 L/minute", "13.2 inH2O", 18.4, 98600, NITROGEN),
      unit: "in",
      value: size("0.61 L/minute", "13.2 inH2O", 18.4, 98600, NITROGEN).value / 25.4,
    },
    "retest lost": units("inH2O", "13.4 inH2O - 13.2 inH2O"),
    "retest leak after": evapDecay("13.4 inH2O", "13.2 inH2O", 19.1),
  },
  "coolant-loss-tractor.md": {
    fall: units("psi", "14.0 psi - 12.6 psi"),
    "hose mean": number("degC", mean([19.2, 18.8, 19.1]), GUM),
    // The shop's jug is 2.5 L. Antifreeze before, less what is taken out, plus what is filled in, is half of all.
    concentrate: number("jug", inUnit("18.5 L * (0.5 - 0.41) / (1 - 0.41)", "L") / 2.5, "volume balance"),
    "fall per minute": number(
      "psi/min",
      leastSquaresSlope([0, 3, 6, 9, 12, 15], [14, 13.7, 13.4, 13.2, 12.9, 12.6]),
      "JCGM 100:2008, H.3.3",
    ),
    "retest cap opens at": number("psi", mean([15.6, 15.8, 15.7]), GUM),
    "retest cap scatter": number("psi", deviation([15.6, 15.8, 15.7]), GUM),
  },
  "flat-battery-van.md": {
    "current through fuse": units("mA", "1.14 mV / (5.30 mohm)"),
    "days to half": units("d", "95 A * hour * 0.5 / (214.6 mA)"),
    saved: units("mA", "214.6 mA - 24.3 mA"),
    "settled mean draw": number("mA", mean([24.3, 24.2, 24.4]), GUM),
    "settled scatter": number("mA", deviation([24.3, 24.2, 24.4]), GUM),
  },
  "trailer-lamps-dim.md": {
    "mean current": number("A", mean(lampCurrents), GUM),
    lost: number("V", trailerLost, "plain arithmetic"),
    "wire alone": number("V", trailerWire, COPPER),
    unexplained: number("V", trailerLost - trailerWire, COPPER),
    "heat in the bad joint": number("W", (trailerLost - trailerWire) * mean(lampCurrents), COPPER),
  },
  "whistle-at-idle-van.md": {
    "manifold pressure": number("kPa(a)", sensor(1.54), STRAIGHT_LINE),
    "vacuum at idle": number("inHg", ((99.4 - sensor(1.54)) * 1000) / si("1 inHg"), STRAIGHT_LINE),
    "leak size": size("3.62 L/minute", "0.52 psi", 20.5, 99400),
    "retest manifold pressure": number("kPa(a)", sensor(1.13), STRAIGHT_LINE),
  },
  "wet-footwell-harvester.md": {
    "cabin pressure in water": units("inH2O", "0.145 kPa"),
    "windscreen force": units("N", "0.145 kPa * 2.6 m^2"),
    "cab dew point": psychro("degC", dewPoint(23.5, 0.78), 0.002),
    "dried cab dew point": psychro("degC", dewPoint(24, 0.44), 0.002),
    "dried humidity at the glass": psychro("%", 100 * relativeHumidity(16, dewPoint(24, 0.44)), 0.02),
  },
  "two-testers-bench.md": {
    "a mean pressure": number("inH2O", mean(pressuresA), GUM),
    "a scatter of pressure": number("inH2O", deviation(pressuresA), GUM),
    "a mean flow": number("L/min", mean(flowsA), GUM),
    "a expected flow": { ...number("L/min", benchFlow(), NOZZLE), relative: 1e-5 },
    "a mean current": number("A", mean(currentsA), GUM),
    "a running time": number("h", peukert(70, mean(currentsA), 1.2, 0.6), PEUKERT),
    "b mean pressure": number("inH2O", mean(pressuresB), GUM),
    "b scatter of pressure": number("inH2O", deviation(pressuresB), GUM),
    "b mean flow": number("L/min", mean(flowsB), GUM),
    "b mean current": number("A", mean(currentsB), GUM),
    "b running time": number("h", peukert(70, mean(currentsB), 1.2, 0.6), PEUKERT),
    "pressure difference": number("inH2O", mean(pressuresB) - mean(pressuresA), GUM),
    "flow difference": number("L/min", mean(flowsB) - mean(flowsA), GUM),
  },
  "junction-box-sprayer.md": {
    "test pressure in psi": units("psi", "9.6 inH2O"),
    "leak size": size("0.31 L/minute", "9.6 inH2O", 18),
    "cover force": units("N", "9.6 inH2O * 210 cm^2"),
    "pressure if capped": standing(
      "inH2O",
      sealedPressure(0, SHOP_AMBIENT, 18 + KELVIN, 40 + KELVIN) / si("1 inH2O"),
    ),
    "inside dew point": psychro("degC", dewPoint(24, 0.14), 0.002),
    "sealant needed": number("mL", (42 * Math.PI * 0.4 ** 2) / 4, "volume of a cylinder, 1 cm3 = 1 mL"),
  },
  "charge-air-hose-loader.md": {
    lost: units("bar", "1.20 bar - 1.02 bar"),
    "leak before": number(
      "Pa.m3/s",
      decayLeakRate({
        volume: 0.0095,
        start: si("1.20 bar"),
        end: si("1.02 bar"),
        seconds: 600,
        ambient: 98_700,
        startKelvin: 21 + KELVIN,
        endKelvin: 21 + KELVIN,
      }),
      GAS,
    ),
    "cap force": units("N", "1.20 bar * 38 cm^2"),
    "cap force in weight": units("kgf", "1.20 bar * 38 cm^2"),
    "retest lost": units("bar", "1.20 bar - 1.19 bar"),
  },
  "exhaust-joint-pickup.md": {
    "above the bay": number("K", 23 - 19.5, "plain arithmetic"),
    "pressure in water": units("inH2O", "0.40 psi"),
    "leak size": size("4.85 L/minute", "0.40 psi", 19.5),
    "retest leak size": size("0.12 L/minute", "0.41 psi", 19.5),
    "share left": number("%", (100 * 0.12) / 4.85, "plain arithmetic"),
  },
  "valve-cover-tractor.md": {
    "crankcase pressure in water": units("inH2O", "0.220 kPa"),
    "test pressure in psi": units("psi", "1.450 kPa"),
    "leak size": size("2.10 L/minute", "1.450 kPa", 22),
    "cover force": units("N", "1.450 kPa * 1150 cm^2"),
  },
  "fog-in-work-lamp-apprentice.md": {
    "inside dew point": psychro("degC", dewPoint(22, 0.31), 0.002),
  },
  "telematics-box-apprentice.md": {
    "cover area": units("cm2", "18 cm * 11 cm"),
    "real cover force": units("lbf", "0.70 psi * 18 cm * 11 cm"),
    "fall per minute": number(
      "psi/min",
      leastSquaresSlope([0, 0.5, 1, 1.5, 2], [0.7, 0.61, 0.53, 0.46, 0.41]),
      "JCGM 100:2008, H.3.3",
    ),
  },
  "boost-pipe-apprentice.md": {
    lost: units("psi", "14.5 psi - 12.7 psi"),
    "lost per minute": units("psi/min", "(14.5 psi - 12.7 psi) / (10 minute)"),
    "cooler force": units("kgf", "14.5 psi * 0.12 m^2"),
  },
  "exhaust-flange-apprentice.md": {
    gap: units("mm2", "29 cm * 0.4 mm"),
    "pressure in water": units("inH2O", "0.35 psi"),
  },
  "breather-smoke-apprentice.md": {
    "better look in psi": units("psi", "2.90 kPa"),
    "leak size": size("3.60 L/minute", "2.90 kPa", 48),
    "cover force": units("N", "2.90 kPa * 640 cm^2"),
  },
  "vapour-line-apprentice.md": {
    "cooling share": standing("inH2O", vapourCooling()),
  },
  "overheating-apprentice.md": {
    "across the radiator": number("K", 74 - 62.5, "plain arithmetic"),
  },
  "flat-battery-apprentice.md": {
    "current through fuse": units("mA", "2.16 mV / (7.20 mohm)"),
    "days to half": units("d", "70 A * hour * 0.5 / (310 mA)"),
  },
  "hunting-idle-apprentice.md": {
    "test pressure in kpa": units("kPa", "1.40 psi"),
    "leak size": size("1.80 L/minute", "1.40 psi", 20, 99_100),
    "total trim": number("%", 18 + 22, "plain arithmetic"),
  },
  "wet-cab-apprentice.md": {
    "door force": units("N", "0.900 kPa * 1.1 m^2"),
    "door force in weight": units("kgf", "0.900 kPa * 1.1 m^2"),
    "cab dew point": psychro("degC", dewPoint(19, 0.92), 0.002),
  },
  "tester-on-loan-apprentice.md": {
    "pressure difference": units("inH2O", "13.6 inH2O - 0.45 psi"),
    "current difference": number("A", 9.2 - 6.2, "plain arithmetic"),
  },
  "dead-beacon-apprentice.md": {
    lost: number("V", beaconLost, "plain arithmetic"),
    "wire alone": number("V", beaconWire, COPPER),
    unexplained: number("V", beaconLost - beaconWire, COPPER),
  },
};

/** Formulas that a sample's own mistake leaves without a value, which is part of what the sample shows. */
export const WITHOUT_VALUE: Readonly<Record<string, readonly string[]>> = {
  "fog-in-work-lamp-apprentice.md": ["lens force", "leak size"],
  "telematics-box-apprentice.md": ["cover force"],
  "boost-pipe-apprentice.md": ["leak size"],
  "exhaust-flange-apprentice.md": ["above the bay"],
  "vapour-line-apprentice.md": ["fall", "end pressure", "leak"],
  "overheating-apprentice.md": ["middle"],
  "tester-on-loan-apprentice.md": ["flow difference"],
};
