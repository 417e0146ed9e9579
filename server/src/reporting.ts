/** Reports that few runs ask for, as a bundle of their own; see `host/lazy-reporting.ts`. */

export { annotationLines } from "./report/formats/annotations.ts";
export { JUNIT_HEAD, JUNIT_TAIL, junitSuite } from "./report/formats/junit.ts";
export { SARIF_TAIL, sarifHead, sarifResults } from "./report/formats/sarif.ts";
export { MarkdownReview } from "./report/review/markdown.ts";
export { TextReview } from "./report/review/text.ts";
