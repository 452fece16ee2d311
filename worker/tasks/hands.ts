import type { Claim } from '../../db/turns.ts';

type Claimed = Extract<Claim, { outcome: 'claimed' }>;

/** One of the places in which a worker works at tasks, taken. */
export interface Hand {
  /** Whether the worker has had nothing else in hand since this was taken. */
  wasAlone(): boolean;
  letGo(): void;
}

/** What a worker has in hand: so many tasks at once, or one that is worked alone. */
export interface Hands {
  /**
   * Takes the task that `ask` finds, one asking at a time. 'busy': no hand is free, or what is in hand or found is worked
   * alone. `free`: nothing is in hand.
   */
  take(ask: (free: boolean) => Promise<Claim>): Promise<(Claimed & { hand: Hand }) | 'nothing' | 'busy'>;
}

export function handsOf(count: number): Hands {
  const inHand = new Set<{ toBeAlone: boolean; wasAlone: boolean }>();
  let asking: Promise<unknown> = Promise.resolve();

  const full = () => inHand.size >= count || [...inHand].some(({ toBeAlone }) => toBeAlone);

  function hold(toBeAlone: boolean): Hand {
    const held = { toBeAlone, wasAlone: inHand.size === 0 };
    for (const other of inHand) other.wasAlone = false;
    inHand.add(held);
    return { wasAlone: () => held.wasAlone, letGo: () => void inHand.delete(held) };
  }

  return {
    take(ask) {
      const taking = asking.then(async () => {
        if (full()) return 'busy';
        const claim = await ask(inHand.size === 0);
        if (claim.outcome === 'nothingToDo') return 'nothing';
        return claim.outcome === 'wantsAlone' ? 'busy' : { ...claim, hand: hold(claim.task.alone) };
      });
      asking = taking.catch(() => undefined);
      return taking;
    },
  };
}
