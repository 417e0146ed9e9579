/** A job note or shop file may hold this many bytes; what is larger is a log that got into the wrong file. */
export const MAX_BYTES = 5 * 1024 * 1024;
