import type { AskedLoom } from '../loom/asked.ts';
import { askedLooms } from '../loom/asked.ts';
import type { Market } from '../job/market.ts';
import { wavesOf } from '../job/orders.ts';
import { canonicalJson } from '../model/canonical.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { loomsFor } from '../model/part.ts';
import type { CountRequirement, Requirement } from '../model/result.ts';
import { byCode } from '../model/code.ts';

/** A made-up loom, and the looms of the request instead of which it is bought. */
export interface MadeUpLoom {
  part: string;
  label: string;
  /** By the names of made looms, in the order of the request's. */
  looms: string[];
  /** How many are needed by each order, the last one being all. */
  byWave: number[];
  /** Why it cannot be bought instead of them. */
  why?: string;
}

/** The made-up looms of a normalised job that are for looms of its request, and what is to be told of them. */
export function madeUpLooms(job: Job, market: Market): { madeUp: MadeUpLoom[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const waves = wavesOf(job);
  const asked = askedLooms(job);
  const byWave = Array.from({ length: waves }, (_, wave) =>
    wave + 1 === waves ? asked : askedLooms(job, wave + 1),
  );
  const quantities = (name: string) =>
    byWave.map((looms) => looms.find(({ loom }) => loom.code === name)?.quantity ?? 0);
  const keyOf = (loom: string, options: readonly string[]) => canonicalJson([loom, options]);
  const byKey = new Map(asked.map((one) => [keyOf(one.code, one.options), one]));
  const madeUp = job.parts.flatMap((part, index): MadeUpLoom[] => {
    if (part.kind !== 'madeUpLoom' || !part.forLooms) return [];
    const all = loomsFor(part.forLooms);
    // One for other looms alone has nothing to do with the request.
    if (!all.some(({ loom }) => asked.some(({ code }) => code === loom))) return [];
    const own = all.flatMap(({ loom, options }) => byKey.get(keyOf(loom, options)) ?? []);
    const names = own.map(({ loom }) => loom.code);
    const perLoom = names.map(quantities);
    const not = (code: string, found: string, todo: string): { why: string } => {
      const where = `made-up loom ${part.code}`;
      const at = pointer(['parts', index, 'forLooms']);
      const subject = `part:${part.code}`;
      findings.push({ code, severity: 'note', at, where, subject, found, todo });
      return { why: found };
    };
    const refusal = (): { why: string } | undefined => {
      const missing = all.filter(({ loom, options }) => !byKey.has(keyOf(loom, options)));
      const [first] = missing;
      if (first) {
        const others = asked.filter(({ code }) => code === first.loom);
        return others.length === 0
          ? not(
              'made-up-loom-for-more',
              `it is also for loom ${first.loom}, which is not in the request`,
              `It is not compared. Add ${first.loom} to the request, or enter a made-up loom without it.`,
            )
          : not(
              'made-up-loom-with-other-options',
              `it is for loom ${first.loom} with ${optionsText(first.options)}; the request asks for ${others.map(({ options }) => optionsText(options)).join(' and for ')}`,
              `It is not compared. If it is right, state these options in forLooms: {"loom": "${first.loom}", "options": [${(others[0]?.options ?? []).map((option) => JSON.stringify(option)).join(', ')}]}.`,
            );
      }
      if (new Set(perLoom.map((each) => each.join())).size > 1)
        return not(
          'made-up-loom-quantities-differ',
          `it is for ${names.join(' and ')} together, of which ${perLoom.map((each) => each.at(-1)).join(' and ')} are asked for${waves > 1 ? ', or at different times' : ''}`,
          'It is not compared. Ask for as many of each, or enter made-up looms for each of them.',
        );
      const inside = asked.find((one) => contains(one, part.code) && own.includes(one));
      if (inside)
        return not(
          'made-up-loom-in-itself',
          `loom ${inside.loom.code} lists it among its own parts, and it is for that loom`,
          `It is not compared. Remove ${part.code} from the parts of loom ${inside.code}, or from forLooms.`,
        );
      if (!market.has(part.code))
        return not(
          'made-up-loom-not-sold',
          'no offer of it can be used, and none is in stock',
          'It is not compared. Enter an offer of it, with a supplier that delivers in time.',
        );
      return undefined;
    };
    return [
      {
        part: part.code,
        label: part.description,
        looms: names,
        byWave: perLoom[0] ?? [],
        ...refusal(),
      },
    ];
  });
  if (madeUp.length === 0)
    findings.push({
      code: 'no-made-up-loom',
      severity: 'note',
      at: '/request/buildOrBuy',
      where: 'build or buy',
      found: 'no made-up loom is for a loom of the request',
      todo: 'Only building is priced. Enter a part of kind madeUpLoom that names the loom in forLooms, and an offer of it.',
    });
  return { madeUp, findings };
}

/** "the options RHD, overdrive"; "no options" */
function optionsText(options: readonly string[]): string {
  return options.length === 0
    ? 'no options'
    : `the option${options.length > 1 ? 's' : ''} ${options.join(', ')}`;
}

function contains({ loom }: AskedLoom, part: string): boolean {
  return loom.parts.some((listed) => listed.part === part);
}

/** What the looms that are built roll up to, with the made-up looms that are bought: by order `wave`, from 0. */
export function withMadeUpLooms(
  requirements: readonly Requirement[],
  bought: readonly MadeUpLoom[],
  wave: number,
): Requirement[] {
  const more = bought.flatMap((one): CountRequirement[] => {
    const quantity = one.byWave[wave] ?? 0;
    return quantity > 0 ? [requirementOf(one, quantity)] : [];
  });
  const added = new Map(more.map((requirement) => [requirement.id, requirement]));
  const merged = requirements.map((requirement) => {
    const own = added.get(requirement.id);
    if (!own || requirement.kind !== 'count') return requirement;
    added.delete(requirement.id);
    return together(requirement, own);
  });
  const counts = [...merged.filter(({ kind }) => kind === 'count'), ...added.values()];
  return [...merged.filter(({ kind }) => kind !== 'count'), ...counts.sort((a, b) => byCode(a.id, b.id))];
}

function requirementOf({ part, label, looms }: MadeUpLoom, quantity: number): CountRequirement {
  const [loom = ''] = looms;
  const text = `bought made instead of ${looms.join(' and ')} = ${quantity} piece${quantity === 1 ? '' : 's'}`;
  return {
    id: `part:${part}`,
    kind: 'count',
    label,
    part,
    uses: [{ loom, where: `bought made instead of ${looms.join(' and ')}`, each: 1, total: quantity }],
    used: quantity,
    spares: 0,
    quantity,
    servedBy: [part],
    steps: [{ rule: 'count', text, value: quantity, unit: 'pieces' }],
  };
}

/** Another loom lists the same made-up loom among its parts. */
function together(one: CountRequirement, other: CountRequirement): CountRequirement {
  const quantity = one.quantity + other.quantity;
  return {
    ...one,
    uses: [...one.uses, ...other.uses],
    used: one.used + other.used,
    quantity,
    steps: [
      ...one.steps,
      ...other.steps,
      {
        rule: 'total',
        text: `${one.quantity} + ${other.quantity} = ${quantity} pieces`,
        value: quantity,
        unit: 'pieces',
      },
    ],
  };
}
