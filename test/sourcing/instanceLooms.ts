import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Random } from './random.ts';

type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type End = Wire['from'];
type Part = JobInput['parts'][number];

/** What an instance has to buy, before anything is priced: the catalogue, the looms and how many of each. */
export interface Wanted {
  parts: Part[];
  looms: Loom[];
  quantities: { loom: string; quantity: number }[];
  /** For each requirement the catalogue parts that serve it. */
  requirements: { byLength: boolean; parts: string[] }[];
}

const COLOURS = ['red', 'blue', 'green', 'black'] as const;

/** One to four requirements, up to two of them wire, in one or two looms. */
export function wantedBy(random: Random): Wanted {
  const wireRequirements = random.pick([0, 1, 1, 2, 2]);
  const countRequirements = random.whole(wireRequirements === 0 ? 2 : 1, 4 - wireRequirements);
  const wanted: Wanted = { parts: [], looms: [], quantities: [], requirements: [] };
  const colours = COLOURS.slice(0, wireRequirements);
  const counted = Array.from({ length: countRequirements }, (_, index) => `c${index}`);
  for (const colour of colours) addWireParts(wanted, colour, random);
  for (const code of counted) {
    wanted.parts.push(countedPart(code, random));
    wanted.requirements.push({ byLength: false, parts: [code] });
  }
  // Every requirement stands in the first loom, so that none is empty.
  for (const code of random.percent(15) ? ['loom-a', 'loom-b'] : ['loom-a']) {
    wanted.looms.push(loomOf(code, wanted.parts, colours, random));
    wanted.quantities.push({ loom: code, quantity: random.pick([1, 1, 2, 3]) });
  }
  return wanted;
}

function addWireParts(wanted: Wanted, colour: (typeof COLOURS)[number], random: Random): void {
  const codes = random.percent(45) ? [`w-${colour}-a`, `w-${colour}-b`] : [`w-${colour}-a`];
  for (const code of codes)
    wanted.parts.push({
      kind: 'wire',
      code,
      description: code,
      cableType: 'thin-wall',
      size: { system: 'mm2', areaMm2: 1 },
      colour: { base: colour },
    });
  wanted.requirements.push({ byLength: true, parts: codes });
}

function countedPart(code: string, random: Random): Part {
  const kind = random.pick(['terminal', 'terminal', 'seal', 'boot', 'consumable'] as const);
  return kind === 'terminal'
    ? { kind, code, description: code, terminalType: 'blade' }
    : { kind, code, description: code };
}

function loomOf(
  code: string,
  parts: Part[],
  colours: readonly (typeof COLOURS)[number][],
  random: Random,
): Loom {
  const terminals = parts.filter((part) => part.kind === 'terminal').map((part) => part.code);
  const end = (): End => {
    if (terminals.length === 0 || random.percent(30)) return { point: 'p', join: 'bare' };
    const terminal = { part: random.pick(terminals), supply: random.percent(12) ? 'reuse' : 'buy' } as const;
    const strip = random.percent(30) ? { stripMm: random.whole(0, 12), tailMm: random.whole(0, 60) } : {};
    // A shared terminal is one and the same at all its ends, so the word names it.
    const shares = random.percent(30) ? { sharesTerminal: `${terminal.part}-${terminal.supply}` } : {};
    return { point: random.pick(['p', 'q']), join: 'crimp', terminal, ...strip, ...shares };
  };
  const wires = colours.flatMap((colour) =>
    Array.from({ length: random.whole(1, 2) }, (_, index): Wire => ({
      id: `${colour}-${index}`,
      cableType: 'thin-wall',
      size: { system: 'mm2', areaMm2: 1 },
      colour: { base: colour },
      from: end(),
      to: end(),
      length: { mm: random.whole(200, 3500), basis: random.pick(['tipToTip', 'sheathToSheath', 'route']) },
    })),
  );
  const counted = parts.filter((part) => part.kind !== 'wire');
  return {
    code,
    name: code,
    settings: { slackPercent: random.pick([0, 2.5, 3, 7.125]), redoMm: random.pick([0, 12, 20]) },
    points: [
      { id: 'p', kind: 'stud' },
      { id: 'q', kind: 'connector' },
    ],
    wires,
    parts: counted.map((part) => ({ part: part.code, quantity: random.whole(1, 9) })),
  };
}
