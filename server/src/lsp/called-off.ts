/** The answer to a question that was called off before it was answered. */
export const CALLED_OFF = "called off";
