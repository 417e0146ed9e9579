import { earlierJobs, type ShortJob } from "./earlier-jobs.ts";

/**
 * Twenty new jobs, each with the earlier job that a technician would want to see first. The answers were
 * chosen by hand, and committed, before the ranking was written; they are not to be changed to suit it. In
 * three of them something is misspelt, as at the bench.
 */
export interface Judged {
  readonly asks: ShortJob;
  /** Subject and complaint of the earlier job that answers. */
  readonly answer: { readonly subject: string; readonly complaint: string };
}

const answers = (subject: string, complaint: string): Judged["answer"] => ({ subject, complaint });

type Asked = readonly [
  procedure: string,
  subject: string,
  vehicle: string,
  complaint: string,
  readings: string,
  answer: Judged["answer"],
];

const asked: readonly Asked[] = [
  [
    "lamp-moisture",
    "left rear lamp cluster, bonded lens",
    "farm utility",
    "droplets in the lens after the wash",
    "test pressure: 0.8 psi; flow: 0.47 L/min; leak size: 0.41 mm",
    answers("right rear lamp cluster, bonded lens, two breathers", "droplets inside the lens after washing"),
  ],
  [
    "lamp-moisture",
    "rear lamp cluster with breathers",
    "farm utility",
    "morning fog in the lens, dry by noon",
    "test pressure: 0.8 psi; flow: 0.05 L/min",
    answers("left rear lamp cluster, bonded lens, two breathers", "fog in the morning, gone by noon"),
  ],
  [
    "lamp-moisture",
    "headlamp, rubber boot behind the bulb",
    "panel van",
    "lens fogged, light dim on the right",
    "flow: 2.1 L/min",
    answers("front headlamp, clipped lens, rubber boot at the bulb", "fogged lens on one side, dim light"),
  ],
  [
    "lamp-moisture",
    "roof work lamp",
    "forage harvester",
    "lamp half full of water",
    "test pressure: 0.6 psi; flow: 2.8 L/min",
    answers("work lamp on the cab roof, screwed lens", "water standing in the lamp"),
  ],
  [
    "module-enclosure-leak",
    "telematic box, cab roof",
    "utility tractor",
    "sends no position after washing",
    "test pressure: 1.8 kPa",
    answers("telematics box on the roof", "no position sent since the wash"),
  ],
  [
    "module-enclosure-leak",
    "engine control unit",
    "wheel loader",
    "engine control drops out when it rains",
    "test pressure: 2 kPa; leak size: 0.3 mm",
    answers("engine control unit housing under the seat", "control unit drops out in rain"),
  ],
  [
    "evap-leak",
    "vapour lines",
    "farm utility",
    "large vapour leak code",
    "test pressure: 12 inH2O; end pressure: 1 inH2O; leak size: 1.6 mm",
    answers("fuel tank vapour lines", "code for a large vapour leak"),
  ],
  [
    "evap-leak",
    "purge valve",
    "delivery van",
    "small vapour leak code, warning lamp on",
    "test pressure: 12 inH2O; end pressure: 11.2 inH2O",
    answers("charcoal canister and purge valve", "warning lamp, code for a small vapour leak"),
  ],
  [
    "evap-leak",
    "tank",
    "pickup",
    "filling nozzle clicks off all the time",
    "",
    answers("vent valve at the canister", "hard to fill, nozzle keeps clicking off"),
  ],
  [
    "intake-leak",
    "brake booster hose",
    "delivery van",
    "brake pedal hard, hissing noise",
    "test pressure: 2.5 psi",
    answers("vacuum hose to the brake booster", "hard brake pedal, hiss in the cab"),
  ],
  [
    "intake-leak",
    "manifold",
    "delivery van",
    "idle hunts, whistling",
    "test pressure: 3 psi; flow: 11 L/min",
    answers("intake manifold gasket", "whistle at idle, idle speed hunts"),
  ],
  [
    "boost-leak",
    "charge air cooler",
    "grain truck",
    "no power uphill, whistles under load",
    "test pressure: 15 psi; end pressure: 10 psi",
    answers("charge air cooler", "loss of power uphill, whistle under load"),
  ],
  [
    "boost-leak",
    "charge air pipes",
    "telescopic loader",
    "black smoke and no pull at full throtle",
    "test pressure: 14.5 psi; end pressure: 12.5 psi",
    answers("charge air pipes and cooler", "no pull above half throttle, black smoke"),
  ],
  [
    "cooling-pressure",
    "cooling system",
    "pickup",
    "overheating uphill, bubbles in the expansion tank",
    "test pressure: 13 psi; end pressure: 13 psi",
    answers("cylinder head gasket", "overheats on the hill, bubbles in the tank"),
  ],
  [
    "cooling-pressure",
    "heater",
    "delivery van",
    "sweet smell inside, greasy windscren",
    "test pressure: 14 psi; end pressure: 12.2 psi",
    answers("heater core", "sweet smell in the cab, windscreen greasy"),
  ],
  [
    "cabin-water-leak",
    "rear doors",
    "delivery van",
    "puddle inside the rear door after washing",
    "water sprayed: 8 L/min",
    answers("rear door seal", "puddle at the rear door after the wash"),
  ],
  [
    "exhaust-leak",
    "exhaust manifold",
    "box truck",
    "ticking noise until hot",
    "test pressure: 1.2 psi; flow: 4.5 L/min",
    answers("exhaust manifold", "ticking goes away when hot"),
  ],
  [
    "key-off-draw",
    "whole vehicle",
    "delivery van",
    "flat battery every Monday",
    "draw: 300 mA; rest voltage: 12.1 V",
    answers("whole vehicle, radio circuit", "battery flat on Monday"),
  ],
  [
    "key-off-draw",
    "charging system",
    "farm utility",
    "battery flat overnight",
    "draw: 2.1 A; rest voltage: 11.5 V",
    answers("alternator", "flat overnight, alternator warm with key off"),
  ],
  [
    "general",
    "starter motor",
    "grain truck",
    "slow cranking when hot",
    "lead drop: 2.4 V; starter current: 400 A",
    answers("starter cable", "cranks slowly when hot"),
  ],
];

export const judged: readonly Judged[] = asked.map(
  ([procedure, subject, vehicle, complaint, readings, answer], index) => ({
    asks: {
      job: `2031-${String(index + 1).padStart(4, "0")}`,
      procedure,
      subject,
      vehicle,
      complaint,
      readings: readings === "" ? [] : readings.split("; "),
    },
    answer,
  }),
);

/** The job number of the answer. */
export function answerJob({ answer }: Judged): string {
  const found = earlierJobs.filter(
    (job) => job.subject === answer.subject && job.complaint === answer.complaint,
  );
  if (found.length !== 1) throw new Error(`“${answer.complaint}” names ${found.length} earlier jobs.`);
  return found[0]?.job ?? "";
}
