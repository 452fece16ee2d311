import { describe, expect, test } from 'vitest';
import { importTable, type ImportRequest, type Thing } from '../../worker/tables/importTable.ts';
import { tableOf, type TableName } from '../../worker/tables/tables.ts';
import { bytesOf } from './bytes.ts';

const GBP = { context: () => ({ currency: 'GBP' }) };

/** One import, and what it wrote. */
async function imported(name: TableName, lines: readonly string[], more: Partial<ImportRequest> = {}) {
  const written: Thing[] = [];
  const summary = await importTable({
    table: tableOf(name),
    bytes: bytesOf(`${lines.join('\n')}\n`),
    options: GBP,
    write: async (things) => void written.push(...things),
    ...more,
  });
  return { summary, written };
}

const OFFERS = 'code,supplier,sold by,part,price,pieces in a pack,note';
const stored = {
  form: 'pack',
  code: 'a',
  supplier: 'ash',
  part: 'ring-6',
  packCount: 10,
  packPrice: { amount: '2.40', currency: 'GBP' },
  minimumPacks: 1,
  stepPacks: 1,
  condition: 'new',
  note: 'large bag',
};
const existing: ImportRequest['existing'] = async (keys) =>
  new Map(keys.includes('a') ? [['a', stored]] : []);

describe('rows of a table', () => {
  test('are new, changed field by field, unchanged or faulty', async () => {
    const { summary, written } = await imported(
      'offers',
      [
        OFFERS,
        'a,ash,pack,ring-6,2.50,10,',
        'b,ash,pack,ring-6,2.40 EUR,10,',
        'c,ash,pack,ring-6,dear,10,',
        'a,ash,pack,ring-6,2.40,10,large bag',
      ],
      { existing },
    );
    expect(summary).toMatchObject({
      new: 1,
      changed: 1,
      unchanged: 0,
      faults: 2,
      complete: true,
      written: true,
    });
    const byRow = new Map(summary.rows.map((each) => [each.row, each]));
    expect(byRow.get(2)).toMatchObject({
      key: 'a',
      result: 'changed',
      changes: [
        { column: 'price', from: '2.40', to: '2.50' },
        { column: 'note', from: 'large bag', to: '' },
      ],
    });
    expect(byRow.get(3)).toMatchObject({ key: 'b', result: 'new' });
    expect(byRow.get(4)?.faults?.[0]).toMatchObject({
      where: 'offers.csv, row 4, column price',
      found: '"dear"',
    });
    expect(byRow.get(5)?.faults?.[0]).toMatchObject({ code: 'duplicate-row' });
    expect(written.map(({ key, thing }) => [key, thing['packPrice']])).toEqual([
      ['a', { amount: '2.50', currency: 'GBP' }],
      ['b', { amount: '2.40', currency: 'EUR' }],
    ]);
    const same = await imported('offers', [OFFERS, 'a,ash,pack,ring-6,2.40,10,large bag'], { existing });
    expect([same.summary.unchanged, same.written]).toEqual([1, []]);
  });

  test('change only what the file has columns for: a list of codes and prices is enough for what is there', async () => {
    const lines = ['code,supplier,sold by,price', 'a,ash,pack,2.60', 'new,ash,pack,1'];
    const { summary, written } = await imported('offers', lines, { existing });
    expect(written.map(({ thing }) => thing)).toEqual([
      { ...stored, packPrice: { amount: '2.60', currency: 'GBP' } },
    ]);
    expect(summary.rows[0]?.faults?.map(({ where, todo }) => [where, todo])).toEqual([
      ['offers.csv, row 3, column part', expect.stringMatching(/^Add the column “part”/)],
      [
        'offers.csv, row 3, column pieces in a pack',
        expect.stringMatching(/^Add the column “pieces in a pack”/),
      ],
    ]);
  });

  test('are told the same without writing', async () => {
    const lines = [
      OFFERS,
      'a,ash,pack,ring-6,2.50,10,',
      'c,ash,pack,ring-6,dear,10,',
      'b,ash,pack,ring-6,1,1,',
    ];
    const { write: _none, ...preview } = { write: undefined };
    const bytes = () => bytesOf(`${lines.join('\n')}\n`);
    const seen = await importTable({
      table: tableOf('offers'),
      bytes: bytes(),
      options: GBP,
      existing,
      ...preview,
    });
    const { summary } = await imported('offers', lines, { existing });
    expect({ ...seen, written: true }).toEqual(summary);
    expect(seen.written).toBe(false);
  });

  test('are all held back where one is faulty and all or nothing is asked', async () => {
    const lines = [OFFERS, 'a,ash,pack,ring-6,2.50,10,', 'c,ash,pack,ring-6,dear,10,'];
    const options = { ...GBP, allOrNothing: true };
    const bad = await imported('offers', lines, { options });
    expect([bad.summary.written, bad.written]).toEqual([false, []]);
    const all = await imported('offers', lines.slice(0, 2), { options });
    expect([all.summary.written, all.written.length]).toEqual([true, 1]);
  });

  test('are looked up, checked and written in batches', async () => {
    const lines = [OFFERS, ...Array.from({ length: 1201 }, (_, at) => `o${at},ash,pack,ring-6,1,1,`)];
    const asked: number[] = [];
    const wrote: number[] = [];
    const { summary } = await imported('offers', lines, {
      existing: async (keys) => (asked.push(keys.length), new Map()),
      write: async (things) => void wrote.push(things.length),
    });
    expect([asked, wrote, summary.new]).toEqual([[500, 500, 201], [500, 500, 201], 1201]);
  });

  test('have faults of the caller’s too, at their cells', async () => {
    const finding = { severity: 'stop', where: 'supplier', found: 'elm', todo: 'Enter it.' } as const;
    const { summary, written } = await imported(
      'offers',
      [OFFERS, 'a,elm,pack,ring-6,1,1,', 'b,ash,pack,ring-6,1,1,'],
      {
        check: async () => ({
          rows: new Map([[2, [{ ...finding, code: 'unknown-supplier', at: '/supplier' }]]]),
        }),
      },
    );
    expect(written.map(({ key }) => key)).toEqual(['b']);
    expect(summary.rows[0]?.faults?.[0]).toMatchObject({
      where: 'offers.csv, row 2, column supplier',
      found: '"elm"',
      todo: 'Enter it.',
    });
  });

  test('keep the loom that they belong to beside them', async () => {
    const head = 'loom,wire,cable type,size,colour,colour seen,from,to,length,from terminal';
    const { summary, written } = await imported(
      'wires',
      [
        head,
        'main,W1,pvc,14/0.30,green/white,faded,switch.2,lamp,1.2 m,ring-6',
        'rear,W1,pvc,14/0.30,GW,,switch.2,lamp,620 mm,',
      ],
      { options: { context: (loom) => (loom === 'rear' ? { colourSystem: 'bsAu7' } : {}) } },
    );
    expect(summary.faults).toBe(0);
    expect(written.map(({ key, loom }) => [key, loom])).toEqual([
      ['main/W1', 'main'],
      ['rear/W1', 'rear'],
    ]);
    expect(written[0]?.thing).toMatchObject({
      colour: { base: 'green', tracer: 'white', seen: 'faded' },
      from: { point: 'switch', way: '2', terminal: { part: 'ring-6', supply: 'buy' } },
      to: { point: 'lamp' },
      length: { mm: 1200, basis: 'route' },
    });
    expect(written[1]?.thing).toMatchObject({
      colour: { base: 'green', tracer: 'white' },
      length: { mm: 620 },
    });
  });
});

describe('words that people use', () => {
  test('each is a pack of one, whose number need not be stated', async () => {
    const one = await imported('offers', [OFFERS, 'a,ash,Each,ring-6,2.40,,', 'b,ash,each,ring-6,2.40,1,']);
    expect(one.written.map(({ thing }) => [thing['form'], thing['packCount']])).toEqual([
      ['pack', 1],
      ['pack', 1],
    ]);
    const ten = await imported('offers', [OFFERS, 'a,ash,each,ring-6,2.40,10,']);
    expect(ten.summary.rows[0]?.faults?.map(({ where }) => where)).toEqual([
      'offers.csv, row 2, column pieces in a pack',
    ]);
  });

  test('heatshrink is heat shrink, and a min order a minimum order', async () => {
    const { written } = await imported('coverings', ['covering,kind,over', 'C1,Heatshrink,B1']);
    expect(written[0]?.thing['kind']).toBe('heatShrink');
    const { written: ash } = await imported('suppliers', ['code,name,min order,currency', 'ash,Ash,10,GBP']);
    expect(ash[0]?.thing['minimumOrder']).toEqual({ amount: '10', currency: 'GBP' });
  });
});

describe('a length with its basis in the cell', () => {
  const wire = (length: string, basis = '') =>
    imported('wires', [
      'wire,cable type,size,colour,from,to,length mm,length basis',
      `W1,pvc,14/0.30,green,a,b,${length},${basis}`,
    ]);

  test.each([
    ['1450 tip to tip', { mm: 1450, basis: 'tipToTip' }],
    ['620 Sheath  to sheath', { mm: 620, basis: 'sheathToSheath' }],
    ['1.2 m, tip to tip', { mm: 1200, basis: 'tipToTip' }],
    ['1.2 m', { mm: 1200, basis: 'route' }],
  ])('is read: %s', async (cell, length) => {
    const { written } = await wire(cell.includes(',') ? `"${cell}"` : cell);
    expect(written[0]?.thing['length']).toEqual(length);
  });

  test('may have the same basis in the column of its own, and no other', async () => {
    const same = await wire('620 tip to tip', 'Tip-to-tip');
    expect(same.written[0]?.thing['length']).toEqual({ mm: 620, basis: 'tipToTip' });
    const other = await wire('620 tip to tip', 'route');
    expect(other.written).toEqual([]);
    expect(other.summary.rows[0]?.faults).toMatchObject([
      { where: 'wires.csv, row 2, column length basis', found: '"route"' },
    ]);
    const beside = await wire('1.2  m', 'tip to tip');
    expect(beside.written[0]?.thing['length']).toEqual({ mm: 1200, basis: 'tipToTip' });
  });

  test('takes the place of the basis that was there', async () => {
    const before = (await wire('500')).written[0]?.thing ?? {};
    const { written } = await imported('wires', ['wire,length mm', 'W1,620 tip to tip'], {
      existing: async () => new Map([['W1', before]]),
    });
    expect(written[0]?.thing['length']).toEqual({ mm: 620, basis: 'tipToTip' });
  });

  test('is refused in inches, with its millimetres', async () => {
    const { summary } = await wire('48 in');
    const [fault] = summary.rows[0]?.faults ?? [];
    expect(fault?.where).toBe('wires.csv, row 2, column length mm');
    // 48 × 25.4 = 1219.2
    expect(fault?.todo).toContain('"1219"');
  });
});

describe('a fault', () => {
  const todo = async (name: TableName, ...lines: string[]) => {
    const { summary } = await imported(name, lines);
    return summary.rows
      .flatMap(({ faults = [] }) => faults)
      .map(({ where, todo: what }) => `${where}: ${what}`);
  };

  test('of a word that is none names all that may stand there, as people write them', async () => {
    expect(await todo('points', 'point,kind', 'P1,plug')).toEqual([
      'points.csv, row 2, column kind: Write one of: connector, device, stud, joiner, joint, flying lead, breakout.',
    ]);
  });

  test('of what a row is sold by names all that may stand there, and not a field of the model', async () => {
    expect(await todo('offers', OFFERS, 'a,ash,box,ring-6,2.40,10,')).toEqual([
      'offers.csv, row 2, column sold by: Write one of: pack, metre, length, kit.',
    ]);
  });

  test('of a decimal comma says how to write the number, and how to say that all have one', async () => {
    expect(await todo('offers', OFFERS, 'a,ash,pack,ring-6,"3,20",10,')).toEqual([
      'offers.csv, row 2, column price: Write 3.20. If all your tables have decimal commas, write the row “decimal comma,yes” in about.csv.',
    ]);
    expect(await todo('offers', OFFERS, 'a,ash,pack,ring-6,2.40,"1,5",')).toEqual([
      expect.stringContaining('Write 1.5. If all your tables have decimal commas'),
    ]);
    expect(await todo('offers', OFFERS, 'a,ash,pack,ring-6,3,20,10,')).toEqual([
      expect.stringContaining('row 2: If 3,20 is a price, write 3.20.'),
    ]);
    expect((await todo('offers', OFFERS, 'a,ash,pack,ring-6,3.20,10,12,50')).join()).not.toContain('a price');
  });

  test('of a cell that the kind of thing has no use for says so', async () => {
    expect(await todo('offers', OFFERS, 'a,ash,metre,wire-1,0.40,10,')).toEqual([
      'offers.csv, row 2, column pieces in a pack: Leave this cell empty: it is not used for “metre”. Pack: how many are in it.',
    ]);
  });

  test('of an empty cell shows what belongs there', async () => {
    expect(await todo('branches', 'branch,from,to,length mm', 'B1,a,,620')).toEqual([
      'branches.csv, row 2, column to: Fill in this cell. The point at which it ends. For example: joiner.',
    ]);
  });

  test('of a short form is told at its cell, once, with every other fault of the row', async () => {
    const faults = await todo(
      'wires',
      'wire,cable type,size,colour,from,to,amps',
      'W1,pvc,44-0.30,gren,a,b,x',
    );
    expect(faults.map((fault) => fault.split(':')[0])).toEqual([
      'wires.csv, row 2, column amps',
      'wires.csv, row 2, column size',
      'wires.csv, row 2, column colour',
    ]);
  });

  test('of JSON that is none says so', async () => {
    expect(await todo('wires', 'wire,cable type,size,colour,from,to', 'W1,pvc,{44},green,a,b')).toEqual([
      expect.stringContaining('row 2, column size: A cell that begins with { is read as JSON'),
    ]);
  });
});

test('decimal commas are read in numbers and in short forms, where the file is said to have them', async () => {
  const { summary, written } = await imported(
    'offers',
    [
      'code;supplier;sold by;part;price;minimum mm;tolerance %;breaks',
      'a;ash;metre;w;0,42;2500;;10 m: 0,38; 50 m: 0,33'.replace('; 50', ' | 50'),
    ],
    { options: { ...GBP, decimalComma: true } },
  );
  expect([summary.faults, written.length]).toEqual([1, 0]);
  const quoted = await imported(
    'offers',
    [
      'code;supplier;sold by;part;price;minimum mm;breaks',
      'a;ash;metre;w;0,42;2500;"10 m: 0,38; 50 m: 0,33"',
    ],
    { options: { ...GBP, decimalComma: true } },
  );
  expect(quoted.written[0]?.thing).toMatchObject({
    pricePerMetre: { amount: '0.42', currency: 'GBP' },
    minimumMm: 2500,
    breaks: [{ fromMm: 10_000 }, { fromMm: 50_000, pricePerMetre: { amount: '0.33', currency: 'GBP' } }],
  });
});
