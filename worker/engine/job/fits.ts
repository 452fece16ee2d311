import type { DoubtedFit, Fit, FitRelation, FitStatus } from '../model/fit.ts';

/** What a club knows of how its parts go together. */
export interface Fits {
  /** What is known of two parts; `mates` holds either way round. Undefined where nothing is. */
  status(from: string, relation: FitRelation, to: string): FitStatus | undefined;
  /** Whether somebody reported that it does not fit, and nobody refuted it. */
  doubted(from: string, relation: FitRelation, to: string): boolean;
}

const WEIGHT: Record<FitStatus, number> = { proposed: 0, confirmed: 1, refuted: 2 };

/** Looks fits up. Where a mating is stated from both halves and they differ, refuted outweighs confirmed, and that proposed. */
export function fitsOf(fits: readonly Fit[], doubtedFits: readonly DoubtedFit[] = []): Fits {
  const known = new Map<string, FitStatus>();
  // Codes hold no space.
  const key = (from: string, relation: FitRelation, to: string) => `${relation} ${from} ${to}`;
  const learn = (at: string, status: FitStatus) => {
    const before = known.get(at);
    if (before === undefined || WEIGHT[status] > WEIGHT[before]) known.set(at, status);
  };
  for (const { from, relation, to, status } of fits) {
    learn(key(from, relation, to), status);
    if (relation === 'mates') learn(key(to, relation, from), status);
  }
  const doubts = new Set(
    doubtedFits.flatMap(({ from, relation, to }) => [
      key(from, relation, to),
      ...(relation === 'mates' ? [key(to, relation, from)] : []),
    ]),
  );
  return {
    status: (from, relation, to) => known.get(key(from, relation, to)),
    doubted: (from, relation, to) => {
      const at = key(from, relation, to);
      return doubts.has(at) && known.get(at) !== 'refuted';
    },
  };
}
