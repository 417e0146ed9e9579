/** What kinds of code action there are, as editors' settings name them. */
export const ACTION_KINDS = {
  fix: "quickfix",
  fixAllOfKind: "quickfix.all",
  accept: "quickfix.accept",
  extract: "refactor.extract",
  rewrite: "refactor.rewrite",
  fixAll: "source.fixAll.witness-mark",
  recordResults: "source.recordResults.witness-mark",
} as const;

export type ActionKind = (typeof ACTION_KINDS)[keyof typeof ACTION_KINDS];
