import type { Handle, Listener, Wake } from './wake.ts';

/** The embedded way: wakings go from the API to the worker beside it, within one process. */
export interface InProcess {
  wake: Wake;
  listen: (handle: Handle, options: { concurrency: number }) => Listener;
}

export function inProcessWake(): InProcess {
  const waiting: string[] = [];
  let pull: (() => void) | undefined;

  function push(id: string): void {
    if (!waiting.includes(id)) waiting.push(id);
    pull?.();
  }

  function listen(handle: Handle, { concurrency }: { concurrency: number }): Listener {
    const inHand = new Set<Promise<void>>();

    function next(): void {
      while (pull === next && inHand.size < concurrency) {
        const id = waiting.shift();
        if (id === undefined) return;
        const done = () => {
          inHand.delete(working);
          next();
        };
        const working: Promise<void> = handle(id).then(done, done);
        inHand.add(working);
      }
    }

    pull = next;
    next();
    return {
      close: async () => {
        pull = undefined;
        await Promise.all(inHand);
      },
    };
  }

  return {
    wake: { wake: async ({ id }) => push(id), ready: async () => undefined, close: async () => undefined },
    listen,
  };
}
