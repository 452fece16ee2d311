/** Work of one request may go on for so long before others have their turn. */
const TURN_MS = 20;

/** To be called now and then in work that goes on for long: lets the event loop serve whoever else waits. */
export function breather(): () => Promise<void> {
  let since = performance.now();
  return async () => {
    if (performance.now() - since < TURN_MS) return;
    await new Promise<void>((resolve) => setImmediate(resolve));
    since = performance.now();
  };
}
