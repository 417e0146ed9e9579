/** Does something in the next turn of the loop, when messages that wait have been let in. A browser has no `setImmediate`. */
export function nextTurn(work: () => void): void {
  if (typeof setImmediate === "function") setImmediate(work);
  else setTimeout(work, 0);
}
