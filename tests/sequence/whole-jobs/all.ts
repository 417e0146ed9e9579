import { boost } from "./boost-leak.ts";
import { cabin } from "./cabin-water-leak.ts";
import { cooling } from "./cooling-pressure.ts";
import { crankcase } from "./crankcase-leak.ts";
import { evap } from "./evap-leak.ts";
import { exhaust } from "./exhaust-leak.ts";
import { general } from "./general.ts";
import { intake } from "./intake-leak.ts";
import { keyOff } from "./key-off-draw.ts";
import { lamp } from "./lamp-moisture.ts";
import { moduleEnclosure } from "./module-enclosure-leak.ts";
import { testers } from "./tester-comparison.ts";
import type { WholeJobs } from "./whole-job.ts";

export const ALL: readonly WholeJobs[] = [
  boost,
  cabin,
  cooling,
  crankcase,
  evap,
  exhaust,
  general,
  intake,
  keyOff,
  lamp,
  moduleEnclosure,
  testers,
];
