import type { Job } from '../../worker/engine/model/job.ts';
import type { Requirement, Result } from '../../worker/engine/model/result.ts';

/** What may serve a requirement: parts, or one offer alone. */
export interface Serving {
  parts: ReadonlySet<string>;
  onlyOffer: string | undefined;
}

/** What serves each requirement under the families that the result has chosen, read from the job anew. */
export function servingOf(job: Job, result: Result): (requirement: Requirement) => Serving {
  const family = new Map(job.parts.map((part) => [part.code, part.family]));
  const bought = new Map(result.families.map((chosen) => [chosen.needed, chosen.bought]));
  const needed = new Set(
    result.requirements.filter(({ id }) => !id.startsWith('tool:')).flatMap(({ servedBy }) => servedBy),
  );
  const pinned = new Map((job.request.pinned ?? []).map(({ part, offer }) => [part, offer]));
  return (requirement) => {
    const { servedBy } = requirement;
    const onlyOffer = servedBy.map((part) => pinned.get(part)).find((offer) => offer !== undefined);
    if (onlyOffer !== undefined || requirement.id.startsWith('tool:'))
      return { parts: new Set(servedBy), onlyOffer };
    const others = job.parts.flatMap(({ code }) =>
      servedBy.some((part) => standsIn(job, code, part)) ? [code] : [],
    );
    const own = requirement.kind === 'wire' ? undefined : family.get(requirement.part);
    const chosen = own === undefined ? undefined : bought.get(own);
    if (chosen !== undefined && chosen !== own)
      return { parts: new Set(others.filter((part) => family.get(part) === chosen)), onlyOffer };
    const cut = requirement.kind === 'wire' || (requirement.kind === 'length' && !requirement.joinable);
    const plain = others.filter((part) => {
      const theirs = family.get(part);
      const isOther = servedBy.some((of) => {
        const ours = family.get(of);
        return ours !== undefined && theirs !== undefined && ours !== theirs;
      });
      return !isOther && !(cut && needed.has(part));
    });
    return { parts: new Set([...servedBy, ...plain]), onlyOffer };
  };
}

/** Whether one part may be bought for another: it is said, as surely as is asked for, and nowhere refuted. */
function standsIn(job: Job, from: string, to: string): boolean {
  const accepted = job.request.settings?.standInsAccepted ??
    job.club.settings.standInsAccepted ?? ['confirmed'];
  const stated = (job.parts.find(({ code }) => code === from)?.standsInFor ?? [])
    .filter((other) => 'part' in other && other.part === to)
    .map(({ confirmedBy }) => (confirmedBy === undefined ? 'proposed' : 'confirmed'));
  const known = [
    ...stated,
    ...job.fits
      .filter((fit) => fit.relation === 'standsInFor' && fit.from === from && fit.to === to)
      .map(({ status }) => status),
  ];
  // What is confirmed somewhere is not merely proposed.
  const status = known.includes('confirmed') ? 'confirmed' : known[0];
  return !known.includes('refuted') && accepted.some((one) => one === status);
}

/** So much of a part, from an offer with an order, or off the shelf (order 0). */
export interface Supply {
  part: string;
  offer: string | undefined;
  wave: number;
  amount: number;
}

/** So much more by an order than by the one before. */
export interface Want {
  serving: Serving;
  wave: number;
  amount: number;
}

/** Whether all that is wanted can be given at once, each piece or millimetre once: the greatest flow, path by path. */
export function isCovered(wants: readonly Want[], supplies: readonly Supply[]): boolean {
  const left = supplies.map(({ amount }) => amount);
  const given = supplies.map(() => wants.map(() => 0));
  const may = ({ part, offer, wave }: Supply, { serving, wave: by }: Want) =>
    wave <= by && serving.parts.has(part) && (serving.onlyOffer === undefined || serving.onlyOffer === offer);
  /** Brings up to so much to a want, from what is left or from wants that can have other. */
  const bring = (to: number, most: number, tried: Set<number>): number => {
    const want = wants[to];
    for (const [from, supply] of supplies.entries()) {
      const row = given[from];
      if (!want || !row || tried.has(from) || !may(supply, want)) continue;
      tried.add(from);
      const free = Math.min(most, left[from] ?? 0);
      if (free > 0) {
        left[from] = (left[from] ?? 0) - free;
        row[to] = (row[to] ?? 0) + free;
        return free;
      }
      for (const [other, amount] of row.entries()) {
        if (other === to || amount === 0) continue;
        const moved = bring(other, Math.min(most, amount), tried);
        if (moved === 0) continue;
        row[other] = (row[other] ?? 0) - moved;
        row[to] = (row[to] ?? 0) + moved;
        return moved;
      }
    }
    return 0;
  };
  return wants.every(({ amount }, to) => {
    let missing = amount;
    while (missing > 0) {
      const brought = bring(to, missing, new Set());
      if (brought === 0) return false;
      missing -= brought;
    }
    return true;
  });
}
