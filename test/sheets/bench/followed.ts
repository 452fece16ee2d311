import type { Section } from '../../../worker/sheets/block.ts';
import type { Built } from './built.ts';
import { diodeVolts, ohms, withFuse } from './meter.ts';

/** Under this every meter beeps, and above the other none does, Ω. */
const BEEPS = 2;
const SILENT = 100;

type Row = readonly string[];

/** The blocks of the tests of the one loom, by their headings. */
function blocksOf(sections: readonly Section[]): (heading: RegExp) => Section['blocks'][number] | undefined {
  const blocks = sections.find(({ title }) => title.startsWith('Test: '))?.blocks ?? [];
  return (heading) => {
    const at = blocks.findIndex((block) => block.form === 'head' && heading.test(block.text));
    return at < 0 ? undefined : blocks.slice(at + 1).find(({ form }) => form !== 'text');
  };
}

function rowsUnder(sections: readonly Section[], heading: RegExp): readonly Row[] {
  const block = blocksOf(sections)(heading);
  return block?.form === 'table' ? block.rows : [];
}

/** "P1 2 (W3, W4)": the contact at P1 that should hold these wires. */
function contactFinder({ contacts }: Built): (words: string) => number {
  return (words) => {
    const [, point = '', wires = ''] = /^(\S+)(?: [^(]*)? ?\((.*)\)$/.exec(words) ?? [];
    const wanted = wires.split(', ');
    const found = contacts.flatMap((contact, at) => {
      const held = [...new Set(contact.ends.map((end) => end.split(' ')[0] ?? ''))].sort();
      return contact.point === point && held.join() === [...wanted].sort().join() ? [at] : [];
    });
    if (found.length !== 1)
      throw new Error(`the sheet says “${words}”, and ${found.length} contacts are that`);
    return found[0] ?? -1;
  };
}

/** One end of something taken off where it is, and where that end is then. */
function oneEndOff(built: Built, name: string, from: number): { built: Built; b: number } {
  const b = built.contacts.length;
  const elements = built.elements.map((element) => {
    if (element.name !== name) return element;
    if (element.b === from) return { ...element, b };
    return element.a === from ? { ...element, a: b } : element;
  });
  return { built: { ...built, contacts: [...built.contacts, { point: '', ends: [] }], elements }, b };
}

/** Follows a test sheet on what was really built: what the meter shows otherwise than the sheet says. */
export function followed(sections: readonly Section[], built: Built): string[] {
  const at = contactFinder(built);
  const wrong: string[] = [];
  const beeps = (a: number, b: number) => ohms(built, a, b) < BEEPS;
  const silent = (a: number, b: number) => ohms(built, a, b) > SILENT;
  const note = (isRight: boolean, words: string) => {
    if (!isRight) wrong.push(words);
  };

  const circuits = blocksOf(sections)(/^Each circuit/);
  const groups = circuits?.form === 'groups' ? circuits.groups : [];
  const references = groups.map(({ head }) => at(/stays at (\S.*?\))/.exec(head)?.[1] ?? ''));
  groups.forEach(({ rows }, index) => {
    const reference = references[index] ?? -1;
    for (const [, place = '', wires = '', , must = ''] of rows)
      if (must === 'beep') note(beeps(reference, at(`${place} (${wires})`)), `${index + 1} to ${place}`);
      else {
        const except = [...place.matchAll(/\d+/g)].map(([number]) => Number(number));
        references.forEach((other, place) => {
          if (place === index || except.includes(place + 1)) return;
          note(silent(reference, other), `${index + 1} against ${place + 1}`);
        });
      }
  });
  for (const [, a = '', b = ''] of rowsUnder(sections, /^Ways side by side/))
    note(silent(at(a), at(b)), `${a} and ${b}`);
  for (const [, what = '', red = '', black = '', must = ''] of rowsUnder(sections, /^Diodes/)) {
    const a = at(red);
    const { built: there, b } = what.includes('one end off')
      ? oneEndOff(built, what.split(',')[0] ?? '', at(black))
      : { built, b: at(black) };
    const range = /: ([\d.]+) to ([\d.]+) Ω/.exec(must);
    const shown = range ? ohms(there, a, b) : diodeVolts(there, a, b);
    const [, least, most] = range ?? /^([\d.]+) to ([\d.]+) V/.exec(must) ?? [];
    const isRight =
      least === undefined
        ? shown === undefined
        : shown !== undefined && shown >= Number(least) && shown <= Number(most) + 0.1;
    note(isRight, `${what}: ${shown ?? 'nothing'}, not ${must}`);
  }
  for (const [, holder = '', a = '', b = '', , out = ''] of rowsUnder(sections, /^Fuses/)) {
    // It is tested in the vehicle.
    if (out === '–') continue;
    if (out !== 'may beep') note(silent(at(a), at(b)), `${holder}, out`);
    note(ohms(withFuse(built, holder), at(a), at(b)) < BEEPS, `${holder}, in`);
  }
  return wrong;
}

/** The wires that the sheet says a meter does not tell apart. */
export function notToldApart(sections: readonly Section[]): string[] {
  const block = blocksOf(sections)(/^Wires that the meter/);
  return block?.form === 'list' ? block.items.flatMap((item) => item.match(/\bW\d+\b/g) ?? []) : [];
}
