/**
 * The words that a step's remark starts with, by kind of outcome. The first one is the usual proof. They stand
 * apart from the schema so that a checker which uses only built-in procedures need not load the schema library.
 */
export const OUTCOME_WORDS = {
  "found or none": ["found", "none"],
  "pass or fail": ["pass", "fail"],
  "droplets, fog or none": ["droplets", "fog", "none"],
} as const;
