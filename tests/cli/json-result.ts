import { z } from "zod";

/**
 * The fixed form of `check --format json`, version 1, written from the format's design and not from the
 * code that makes it. Strict: a key that is not listed is a breach of the form.
 */
const counted = z.int().min(1);

const value = z.strictObject({
  name: z.string().min(1),
  kind: z.enum(["measured", "derived", "text"]),
  value: z.union([z.number(), z.string(), z.null()]),
  unit: z.string().min(1).nullable(),
  uncertainty: z.number().nonnegative().nullable(),
  line: counted,
});

const finding = z.strictObject({
  rule: z.string().regex(/^[a-z]+\/[a-z-]+$/),
  severity: z.enum(["error", "warning", "info"]),
  message: z.string().min(1),
  line: counted,
  column: counted,
  endLine: counted,
  endColumn: counted,
  fixable: z.boolean(),
});

export const jsonResult = z.strictObject({
  version: z.literal(1),
  notes: z.array(
    z.strictObject({
      path: z.string().regex(/^[^\\]+$/),
      job: z.string().nullable(),
      status: z.enum(["open", "done"]).nullable(),
      values: z.array(value),
      findings: z.array(finding),
    }),
  ),
  totals: z.strictObject({ notes: z.int().min(0), errors: z.int().min(0), warnings: z.int().min(0) }),
});
