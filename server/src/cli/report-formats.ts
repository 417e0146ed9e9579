/** How `check` can write its results: for somebody to read, for programs, and for servers that check changes. */
export const CHECK_FORMATS = ["readable", "json", "sarif", "junit", "annotations"] as const;

/** How `review` can. */
export const REVIEW_FORMATS = ["text", "markdown", "sarif", "junit", "annotations"] as const;
