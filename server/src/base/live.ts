/** What an editor asks of many notes; see `host/lazy-base.ts`. */

export { findByCondition, findByWords, readQuestion } from "./ask.ts";
export { readCondition } from "./condition.ts";
export { examplesFrom } from "./examples.ts";
export { LiveBase } from "./live-base.ts";
export { makeRecord } from "./make-record.ts";
export { namedValues, valueInWords } from "./named-values.ts";
export { parseRecord } from "./parse-record.ts";
export { findLines, placesOf } from "./places.ts";
export { DURATION_QUESTION, QUESTIONS } from "./questions.ts";
export { rankSimilar } from "./similar.ts";
