import { expect, test } from 'vitest';
import { FIRST, read } from './firstLoom.ts';
import { commandOn, disk } from './folders.ts';

const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

/** What is printed where a folder is priced with these flags, on single spaces. */
async function pricedWith(files: Record<string, string>, ...flags: string[]) {
  const { code, printed, warned } = await commandOn(disk('loom', files), 'loom', ...flags);
  return { code, printed: flat(printed), warned: flat(warned) };
}

const RING = 'code,kind,description,terminal type,size mm\nring-s,terminal,Ring,ring,6.4\n';
/** A ring of 6.4 mm on a stud of 8 mm; the rows stand in another order than their names. */
const STUD = {
  ...FIRST,
  'parts.csv': RING,
  'wires.csv': [
    'wire,cable type,size,colour,from,to,length mm,from terminal,to terminal',
    'W2,pvc,14/0.30,black,lamp,earth,300,ring-s,ring-s',
    'W1,pvc,14/0.30,green,switch.2,lamp,620,blade-s,ring-s',
    '',
  ].join('\n'),
  'points.csv': 'point,kind,stud mm\nswitch,device,\nlamp,stud,8\nearth,stud,6\n',
};

test('what the checks find names the file, the row and the column, and columns where it says what to do', async () => {
  const { code, printed, warned } = await pricedWith(STUD);
  expect(code).toBe(3);
  for (const said of [printed, warned]) {
    expect(said).toContain('wire W1, to, terminal (wires.csv, row 3, column to terminal)');
    expect(said).toContain('wire W2, from, terminal (wires.csv, row 2, column from terminal)');
    expect(said).toContain('correct “stud mm” (points.csv)');
    expect(said).not.toContain('studMm');
  }
  expect(warned).toContain('asOriginal (rest.json)');
});

test('as JSON it has the words of a job file', async () => {
  const { printed } = await pricedWith(STUD, '--json');
  expect(printed).toContain('correct studMm');
  expect(printed).not.toContain('wires.csv');
});

test('what stops a folder from being priced names settings by their entries in about.csv', async () => {
  const { code, warned } = await pricedWith({ ...STUD, 'about.csv': 'stops block,yes\n' });
  expect(code).toBe(2);
  expect(warned).toContain('the setting “stops block” (about.csv) is on');
  expect(warned).toContain('(wires.csv, row 3, column to terminal)');
});

test('a name of the folder’s own that is spelled like a field stays as it is', async () => {
  const points = STUD['points.csv'].replace('lamp', 'studMm');
  const wires = STUD['wires.csv'].replaceAll('lamp', 'studMm');
  const { warned } = await pricedWith({ ...STUD, 'points.csv': points, 'wires.csv': wires });
  expect(warned).toContain('studMm');
  expect(warned).not.toContain('“stud mm”');
});

test('what is not sourced is to be entered in offers.csv', async () => {
  const offers = FIRST['offers.csv']
    .split('\n')
    .filter((line) => !/^[br],/.test(line))
    .join('\n');
  const { printed } = await pricedWith({ ...FIRST, 'offers.csv': offers });
  expect(printed).toContain('In offers.csv: Enter an offer for ring-s.');
  expect(printed).toContain('In offers.csv: Enter an offer for it, with the wire in words as its part.');
  expect(printed).not.toContain('catalogue');
});

test('faults of reading name rows, and the file in which a part is missing', async () => {
  const { faults } = await read({
    ...FIRST,
    'wires.csv': FIRST['wires.csv'].replace('blade-s', 'blade-x'),
    'points.csv': 'point,kind\n\nlamp,device\nearth,stud\nlamp,joiner\n',
  });
  expect(faults.map(({ where, todo }) => [where, todo])).toEqual([
    [
      'wires.csv, row 2, column from terminal',
      'There is no part blade-x; add it to parts.csv or name another. Did you mean blade-s or blade-t?',
    ],
    [
      'points.csv, row 5, column point',
      'The id lamp is already used at row 3 of points.csv; give one point another id.',
    ],
  ]);
});
