import type { Job } from '../../model/job.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import { SIDES, type Wire } from '../../model/loom.ts';
import { sizeKey, sizeLabel } from '../../model/size.ts';
import type { AskedLoom } from '../asked.ts';
import { runChecks } from '../checks/checks.ts';
import type { CheckContext } from '../checks/context.ts';
import { speakingAgainst } from '../checks/speaksAgainst.ts';
import { contextOf } from '../contextOf.ts';
import { sharedKey } from '../counts/terminals.ts';
import { asBought } from './asBought.ts';
import { substitutesOf, type StandFor } from './substitutes.ts';

type Known = Pick<CheckContext, 'parts' | 'figures'> & { isOnSale: (part: string) => boolean };

/** A wire that would be bought in the next size up. */
interface Substituted {
  asked: AskedLoom;
  index: number;
  wire: Wire;
  instead: Wire['size'];
}

/**
 * What is bought for wires that nobody offers, where the next size up passes the checks at the wire's ends, in its seals and
 * under its coverings; where one does not, the next one that does. Told is the first size that fails, and the figure.
 */
export function vettedSubstitutes(
  job: Job,
  drawn: readonly AskedLoom[],
  known: Known,
): { standFor: StandFor; findings: Finding[] } {
  const refused = new WeakMap<Wire, Set<string>>();
  const standFor = substitutesOf(
    job.parts,
    known.isOnSale,
    (wire, size) => refused.get(wire)?.has(sizeKey(size)) === true,
  );
  const told = new Map<Wire, Finding>();
  let against: ReturnType<typeof speakingAgainst> | undefined;
  // Each round refuses a size of one wire at the least, or is the last.
  for (;;) {
    const substituted = substitutedIn(drawn, standFor);
    if (substituted.length === 0) break;
    against ??= speakingAgainst(runChecks(contextOf(job, drawn, { ...known, standFor })), drawn);
    const context = contextOf(job, asBought(drawn, standFor), { ...known, standFor });
    const found = against(runChecks(context));
    if (found.length === 0) break;
    const concerned = concerning(substituted, context);
    for (const finding of found)
      for (const one of concerned(finding)) {
        refused.set(one.wire, (refused.get(one.wire) ?? new Set()).add(sizeKey(one.instead)));
        if (!told.has(one.wire)) told.set(one.wire, unfit(one, finding));
      }
  }
  return { standFor, findings: [...told.values()] };
}

function substitutedIn(drawn: readonly AskedLoom[], standFor: StandFor): Substituted[] {
  return drawn.flatMap((asked) =>
    asked.loom.wires.flatMap((wire, index): Substituted[] => {
      if (asked.boughtMade) return [];
      if (wire.colourRule !== 'nextSizeUp' || wire.supply !== 'buy' || wire.inCable !== undefined) return [];
      const { spec, step } = standFor(wire, undefined);
      return step ? [{ asked, index, wire, instead: spec.size }] : [];
    }),
  );
}

/** Finds the substitutes that a finding is about: at its wire and terminal, its point, its branches; else all there are. */
function concerning(
  substituted: readonly Substituted[],
  { looms, branches }: CheckContext,
): (finding: Finding) => readonly Substituted[] {
  const places = new Map<string, Substituted[]>();
  for (const one of substituted) {
    const { asked, wire, index } = one;
    const at = (...place: (string | number)[]) => addTo(places, [asked.index, ...place].join(' '), one);
    at('wires', index);
    for (const side of SIDES) {
      at('points', wire[side].point);
      if (wire[side].sharesTerminal !== undefined) at('shared', sharedKey(wire[side]));
    }
  }
  const byWire = new Map(substituted.map((one) => [`${one.asked.index} ${one.wire.id}`, one]));
  for (const { loom, index } of looms)
    for (const { branch, wires } of branches.of(loom.code))
      for (const { id } of wires) {
        const one = byWire.get(`${index} ${id}`);
        if (one) addTo(places, `${index} branches ${branch.id}`, one);
      }
  return ({ at }) => {
    const [, index, list = '', place = ''] = /^\/looms\/(\d+)\/([a-z]+)\/(\d+)/i.exec(at) ?? [];
    const loom = looms.find((asked) => asked.index === Number(index))?.loom;
    const keys: string[] = [];
    if (list === 'wires') {
      keys.push(`wires ${place}`);
      const wire = loom?.wires[Number(place)];
      if (wire) for (const side of SIDES) keys.push(`shared ${sharedKey(wire[side])}`);
    }
    if (list === 'points') keys.push(`points ${loom?.points[Number(place)]?.id ?? ''}`);
    if (list === 'coverings')
      for (const branch of loom?.coverings[Number(place)]?.over ?? []) keys.push(`branches ${branch}`);
    if (list === 'fittings') keys.push(`branches ${loom?.fittings[Number(place)]?.branch ?? ''}`);
    const there = new Set(keys.flatMap((key) => places.get(`${index ?? ''} ${key}`) ?? []));
    return there.size > 0 ? [...there] : substituted;
  };
}

function unfit({ asked, index, wire, instead }: Substituted, against: Finding): Finding {
  return {
    code: 'substitute-does-not-fit',
    severity: 'note',
    at: pointer(['looms', asked.index, 'wires', index, 'size']),
    where: `loom ${asked.loom.code}, wire ${wire.id}`,
    subject: `wire:${wire.id}`,
    found: `${sizeLabel(instead)} instead of ${sizeLabel(wire.size)}, the next size up on offer; ${against.where}: ${against.found}`,
    ...(against.limit === undefined ? {} : { limit: against.limit }),
    ...(against.source === undefined ? {} : { source: against.source }),
    todo: 'It is not bought instead. Name parts at this wire that take the larger size, or enter an offer of the wire’s own size.',
  };
}
