import * as z from "zod/mini";
import { isRealDay } from "../text/real-day.ts";

/**
 * The form of a front matter. Keys hold text as written; the three C's (complaint, cause, correction) are
 * the trade's own way of telling a job. The trade's usual machine facts are known beside those that the
 * checks use, so that a farm machine with hours and a serial number is as welcome as a car with a VIN.
 */

export const OUTCOMES = ["repaired", "replaced", "no fault found", "declined", "diagnosis only"] as const;
export const STATUSES = ["open", "done"] as const;

const text = z.string().check(z.minLength(1));
/** A text, or a list of them, which reads as one. */
const texts = z.pipe(
  z.union([text, z.array(text)]),
  z.transform((given) => (typeof given === "string" ? given : given.join("; "))),
);
const list = z.union([text, z.array(text)]);

const vehicleSchema = z.strictObject({
  description: z.optional(text),
  make: z.optional(text),
  model: z.optional(text),
  year: z.optional(z.pipe(z.string().check(z.regex(/^(?:19|20)\d\d$/)), z.transform(Number))),
  engine: z.optional(text),
  odometer: z.optional(text),
  hours: z.optional(text),
  vin: z.optional(text),
  serial: z.optional(text),
  plate: z.optional(text),
  "fleet number": z.optional(text),
});

export const frontMatterSchema = z.strictObject({
  job: z.optional(text),
  title: z.optional(text),
  procedure: z.optional(text),
  subject: z.optional(texts),
  vehicle: z.optional(vehicleSchema),
  customer: z.optional(texts),
  complaint: z.optional(texts),
  cause: z.optional(texts),
  correction: z.optional(texts),
  parts: z.optional(list),
  by: z.optional(texts),
  "reviewed by": z.optional(texts),
  date: z.optional(z.string().check(z.refine((day) => isRealDay(day)))),
  status: z.optional(z.enum(STATUSES)),
  outcome: z.optional(z.enum(OUTCOMES)),
  "comeback of": z.optional(text),
  source: z.optional(list),
  photos: z.optional(list),
  tags: z.optional(list),
});

export const FRONT_MATTER_KEYS: readonly string[] = Object.keys(frontMatterSchema.shape);
export const VEHICLE_KEYS: readonly string[] = Object.keys(vehicleSchema.shape);
