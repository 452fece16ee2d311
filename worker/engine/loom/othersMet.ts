import { addTo } from '../model/group.ts';
import type { JobLoom } from '../model/job.ts';
import { optionSetsOf } from '../model/optionSets.ts';
import type { MadeLoom } from './madeLooms.ts';

/** Another loom that a made loom meets, of which it cannot be told as which it is meant. */
export interface Unclear {
  /** The other loom's code. */
  code: string;
  /** What the points of this one name it by: the name of no made loom. */
  name: string;
  /** The names under which the other is made. */
  others: readonly string[];
}

/**
 * The made looms with what they bring each other and are plugged into named by the names of made looms. Where a loom is
 * made with several sets of options, the one is meant that was made with the same options, of those that both have; where
 * that is not one for one, it is not clear which, and the looms do not meet.
 */
export function othersMet(made: readonly MadeLoom[]): MadeLoom[] {
  const byLoom = new Map<string, MadeLoom[]>();
  for (const each of made) addTo(byLoom, each.code, each);
  return made.map((own) => {
    const unclear = new Map<string, Unclear>();
    const nameOf = (code: string): string => {
      if (code === own.code) return own.loom.code;
      const others = byLoom.get(code);
      // Not in this quote.
      if (!others) return code;
      const other = partner(own, byLoom.get(own.code) ?? [], others);
      if (other) return other.loom.code;
      const name = `${code} (not clear which)`;
      unclear.set(code, { code, name, others: others.map(({ loom }) => loom.code) });
      return name;
    };
    const points = own.loom.points.map((point) => renamed(point, nameOf));
    return { ...own, loom: { ...own.loom, points }, unclear: [...unclear.values()] };
  });
}

function partner(
  own: MadeLoom,
  alike: readonly MadeLoom[],
  others: readonly MadeLoom[],
): MadeLoom | undefined {
  if (alike.length === 1 && others.length === 1) return others[0];
  const [other, ...more] = others.filter((each) => agree(own, each));
  if (!other || more.length > 0) return undefined;
  return alike.filter((each) => agree(each, other)).length === 1 ? other : undefined;
}

/** Whether two made looms have the same of those options that both looms have. */
function agree(a: MadeLoom, b: MadeLoom): boolean {
  const ofB = new Set(optionSetsOf(b.loom.options).names);
  return optionSetsOf(a.loom.options)
    .names.filter((option) => ofB.has(option))
    .every((option) => a.options.includes(option) === b.options.includes(option));
}

type Point = JobLoom['points'][number];

function renamed(point: Point, nameOf: (code: string) => string): Point {
  const { suppliedByLoom, matedTo } = point;
  if (suppliedByLoom === undefined && matedTo?.loom === undefined) return point;
  return {
    ...point,
    ...(suppliedByLoom === undefined ? {} : { suppliedByLoom: nameOf(suppliedByLoom) }),
    ...(matedTo?.loom === undefined ? {} : { matedTo: { ...matedTo, loom: nameOf(matedTo.loom) } }),
  };
}
