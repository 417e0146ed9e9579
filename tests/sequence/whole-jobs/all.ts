import { boost } from "./boost-leak.ts";
import { cooling } from "./cooling-pressure.ts";
import { crankcase } from "./crankcase-leak.ts";
import { evap } from "./evap-leak.ts";
import { exhaust } from "./exhaust-leak.ts";
import { intake } from "./intake-leak.ts";
import { keyOff } from "./key-off-draw.ts";
import { lamp } from "./lamp-moisture.ts";
import type { WholeJobs } from "./whole-job.ts";

export const ALL: readonly WholeJobs[] = [boost, cooling, crankcase, evap, exhaust, intake, keyOff, lamp];
