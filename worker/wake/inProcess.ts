import type { Handle, Listener, Wake } from './wake.ts';

/** The embedded way: wakings go from the API to the worker beside it, within one process. */
export interface InProcess {
  wake: Wake;
  listen: (handle: Handle, options: { concurrency: number }) => Listener;
}

export function inProcessWake(): InProcess {
  const waiting: string[] = [];
  const later = new Set<NodeJS.Timeout>();
  let pull: (() => void) | undefined;

  function push(id: string): void {
    if (!waiting.includes(id)) waiting.push(id);
    pull?.();
  }

  function listen(handle: Handle, { concurrency }: { concurrency: number }): Listener {
    const inHand = new Set<Promise<void>>();

    async function work(id: string): Promise<void> {
      const handled = await handle(id);
      if (handled.outcome === 'over' || pull !== next) return;
      const timer = setTimeout(() => {
        later.delete(timer);
        push(id);
      }, handled.inMs);
      later.add(timer);
    }

    function next(): void {
      while (pull === next && inHand.size < concurrency) {
        const id = waiting.shift();
        if (id === undefined) return;
        // A handler that throws has logged why; its task is swept up when its lease runs out.
        const working: Promise<void> = work(id)
          .catch(() => undefined)
          .finally(() => {
            inHand.delete(working);
            next();
          });
        inHand.add(working);
      }
    }

    pull = next;
    next();
    return {
      close: async () => {
        pull = undefined;
        for (const timer of later) clearTimeout(timer);
        await Promise.all(inHand);
      },
    };
  }

  return {
    wake: { wake: async ({ id }) => push(id), ready: async () => undefined, close: async () => undefined },
    listen,
  };
}
