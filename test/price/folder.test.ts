import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { commandOn, disk } from './folders.ts';
import { FIRST, read } from './firstLoom.ts';

const whereOf = (faults: readonly { where: string; code: string }[]) =>
  faults.map(({ where, code }) => `${where}: ${code}`);

test('what about.csv says of all offers holds for those that do not state their own', async () => {
  const { job, faults } = await read({
    ...FIRST,
    'suppliers.csv': 'code,name,currency\nash,Ash,EUR\nelm,Elm,EUR\n',
    'offers.csv': [
      'code,supplier,sold by,part,price,pieces in a pack,breaks,condition',
      'g,,metre,pvc 14/0.30 green,0.42,,10 m: 0.38,',
      'b,elm,metre,pvc 14/0.30 black,0.42 EUR,,,new',
      'r,,pack,ring-s,1.20,10,,',
      'l,,pack,blade-s,1.20,10,,',
      '',
    ].join('\n'),
    'about.csv':
      'offers supplier,ash\noffers currency,GBP\noffers condition,old stock\noffers seen on,2026-11-02\n',
  });
  expect(faults).toEqual([]);
  expect(job?.offers.slice(0, 2)).toMatchObject([
    {
      supplier: 'ash',
      condition: 'oldStock',
      seenOn: '2026-11-02',
      pricePerMetre: { amount: '0.42', currency: 'GBP' },
      breaks: [{ fromMm: 10_000, pricePerMetre: { amount: '0.38', currency: 'GBP' } }],
    },
    { supplier: 'elm', condition: 'new', pricePerMetre: { amount: '0.42', currency: 'EUR' } },
  ]);
});

describe('a first loom of three tables', () => {
  test('is a whole job: what is not said is filled in, and told', async () => {
    const { job, faults, notes, counts } = await read(FIRST);
    expect(faults).toEqual([]);
    expect(job).toMatchObject({ asOf: '2026-11-24', club: { currency: 'EUR' } });
    expect(job?.request).toEqual({ looms: [{ loom: 'Rear-loom', quantity: 1 }] });
    expect(job?.looms[0]).toMatchObject({ code: 'Rear-loom', name: 'Rear loom!' });
    expect(job?.parts.map(({ code }) => code)).toEqual(expect.arrayContaining(['ring-s', 'blade-s']));
    expect(counts).toEqual([
      ['wires.csv', 2],
      ['suppliers.csv', 1],
      ['offers.csv', 4],
    ]);
    expect(notes.join('\n')).toContain('taken from the starter catalogue: blade-s, ring-s');
    expect(notes.join('\n')).toContain('switch (device), lamp (stud), earth (stud)');
  });

  test('takes with parts of the starter catalogue their covers and the fits among all these', async () => {
    const { job, faults, notes } = await read(FIRST);
    expect(faults).toEqual([]);
    expect(job?.parts.map(({ code }) => code)).toContain('cover-s');
    // The blade that mates with this one is not in the job, nor the boot for the ring.
    expect(job?.fits.map(({ from, relation, to }) => [from, relation, to])).toEqual([
      ['cover-s', 'covers', 'blade-s'],
    ]);
    expect(notes).toEqual(
      expect.arrayContaining([
        'Covers taken with them: cover-s. A cover is bought only where an end of a wire names it.',
        'Taken with these parts: 1 fit between them.',
      ]),
    );
  });

  test('a fit that the folder states counts before the one of the starter catalogue', async () => {
    const fits = 'from,relation,to,status\ncover-s,covers,blade-s,refuted\n';
    const parts = 'code,kind,description,cover type\ncover-s,cover,Cover,terminal cover\n';
    const { job, faults } = await read({ ...FIRST, 'fits.csv': fits, 'parts.csv': parts });
    expect([faults, job?.fits.map(({ status }) => status)]).toEqual([[], ['refuted']]);
  });

  test('is priced as any job, for the day that is asked for', async () => {
    const { code, printed, warned } = await commandOn(
      disk('loom', FIRST),
      'loom',
      '--as-of',
      '2026-11-02',
      '--json',
    );
    expect(code).toBe(0);
    expect(printed).toContain('"asOf":"2026-11-02"');
    expect(warned).toContain('wires.csv: 2 rows');
  });

  test('is read and not priced with --preview', async () => {
    const { code, printed } = await commandOn(disk('loom', FIRST), 'loom', '--preview');
    expect(code).toBe(0);
    expect(printed).toContain('wires.csv: 2 rows');
    expect(printed).toContain(
      'Nothing to fix in the tables. Wires, fuses and offers are checked when it is priced. Price it: npm run price -- loom',
    );
  });

  test('is told of ends that say nothing, and of points that differ in capitals', async () => {
    const wires = [
      'wire,cable type,size,colour,from,to,length mm,from terminal,to join',
      'W1,pvc,14/0.30,green,switch,lamp,620,blade-s,',
      'W2,pvc,14/0.30,black,Lamp,tail,300,,bare',
      'W3,pvc,14/0.30,black,plug,loose,300,,',
    ];
    const points = 'point,kind\nplug,connector\nloose,flying lead\n';
    const { notes } = await read({ ...FIRST, 'wires.csv': wires.join('\n'), 'points.csv': points });
    expect(notes).toContain('Ends without a terminal: wire W1 to, wire W2 from. They count as bare.');
    expect(notes.filter((note) => note.includes('capitals'))).toEqual([
      expect.stringMatching(/^Points whose names differ only in capitals: lamp, Lamp\./),
    ]);
    expect((await read(FIRST)).notes.join()).not.toMatch(/without a terminal|capitals/);
  });

  test('has points of the kind of which no more is asked', async () => {
    const wires = [
      'wire,cable type,size,colour,from,to,length mm,from terminal,to terminal,to join',
      // All rings, but at ways of its own: not one post.
      'W1,pvc,14/0.30,green,solenoid.BAT,stack,620,ring-s,ring-s,',
      'W2,pvc,14/0.30,red,solenoid.ST,stack,620,ring-s,ring-s,',
      'W3,pvc,14/0.30,black,mixed,splice,620,ring-s,,joint',
      'W4,pvc,14/0.30,blue,mixed,splice,620,blade-s,,joint',
    ];
    const branches = 'branch,from,to,length mm\nB1,stack,tee,300\nB2,tee,splice,300\n';
    const { job } = await read({ ...FIRST, 'wires.csv': wires.join('\n'), 'branches.csv': branches });
    expect(Object.fromEntries(job?.looms[0]?.points.map(({ id, kind }) => [id, kind]) ?? [])).toEqual({
      solenoid: 'device',
      stack: 'stud',
      mixed: 'device',
      splice: 'joint',
      tee: 'breakout',
    });
  });

  test('keeps points and parts that are entered, and the name of a point with a dot in it', async () => {
    const { job } = await read({
      ...FIRST,
      'wires.csv': FIRST['wires.csv'].replace('switch.2', 'a.b'),
      'points.csv': 'point,kind\na.b,connector\na,connector\n',
      'parts.csv': 'code,kind,description,terminal type\nring-s,terminal,My own,ring\n',
    });
    expect(job?.looms[0]?.wires[0]?.from).toMatchObject({ point: 'a.b' });
    expect(job?.looms[0]?.points.map(({ id }) => id)).toEqual(['a.b', 'a', 'lamp', 'earth']);
    expect(job?.parts.find(({ code }) => code === 'ring-s')?.description).toBe('My own');
  });
});

describe('what is said once', () => {
  test('stands in about.csv: loom, club and any setting', async () => {
    const { job } = await read({
      ...FIRST,
      'about.csv':
        'what,value\nloom code,rear\nName,The rear loom\nEarth,positive\ncurrency,EUR\nas of,2.11.2026\nquantity,6\nslackPercent,4\nConditions accepted,"new, used"\nstops block,yes\nlabour minutes,"crimping 0.8, taking off 2"\ncolour system,BS AU 7\n',
      'wires.csv': FIRST['wires.csv'].replace('green', 'G'),
    });
    expect(job).toMatchObject({
      asOf: '2026-11-02',
      club: {
        currency: 'EUR',
        settings: {
          slackPercent: 4,
          conditionsAccepted: ['new', 'used'],
          stopsBlock: true,
          labourMinutes: [
            { operation: 'crimping', minutes: 0.8 },
            { operation: 'takingOff', minutes: 2 },
          ],
        },
      },
      request: { looms: [{ loom: 'rear', quantity: 6 }] },
      looms: [{ code: 'rear', name: 'The rear loom', earth: 'positive', colourSystem: 'bsAu7' }],
    });
    expect(job?.looms[0]?.wires[0]?.colour).toEqual({ base: 'green' });
  });

  test('is told by its row where it cannot be read, is unknown or stands twice', async () => {
    const { faults } = await read({
      ...FIRST,
      'about.csv': 'what,value\ncurency,EUR\nquantity,many\nearth,negative\nEarth,positive\nlook,new\n',
    });
    expect(whereOf(faults)).toEqual([
      'about.csv, row 2, column what: unknown-entry',
      'about.csv, row 3, column value: not-a-number',
      'about.csv, row 5, column what: duplicate-row',
      'about.csv, row 6, column value: not-one-of',
    ]);
    expect(faults[0]?.todo).toContain('“currency”');
  });

  test('of a loom is refused where there are several', async () => {
    const wires = FIRST['wires.csv']
      .replace('wire,', 'loom,wire,')
      .replace('W1', 'main,W1')
      .replace('W2', 'rear,W2');
    const { faults } = await read({ ...FIRST, 'wires.csv': wires, 'about.csv': 'what,value\nvehicle,Van\n' });
    expect(whereOf(faults)).toEqual(['about.csv, row 2, column what: several-looms']);
    const both = await read({ ...FIRST, 'wires.csv': wires });
    expect(both.job?.request.looms).toEqual([
      { loom: 'main', quantity: 1 },
      { loom: 'rear', quantity: 1 },
    ]);
  });
});

describe('faults of a folder', () => {
  test('are told all at once, from all files, in their order, by file, row and column, and the code is 2', async () => {
    const files = {
      ...FIRST,
      'wires.csv': `${FIRST['wires.csv']}W3,pvc,44-0.30,black,switch.1,lamp,"1,200",nonesuch,\n`,
      'offers.csv': `${FIRST['offers.csv']}x,elm,pack,ring-s,dear,10\n`,
      'stock.csv': 'code,kind,part\n',
    };
    const { faults } = await read(files);
    expect(whereOf(faults)).toEqual([
      'wires.csv, row 4, column length mm: number-in-doubt',
      'wires.csv, row 4, column size: wrong-form',
      'wires.csv, row 4, column from terminal: unknown-part',
      'offers.csv, row 6, column price: wrong-form',
      'offers.csv, row 6, column supplier: unknown-supplier',
      'stock.csv, row 1, column count: missing-column',
    ]);
    const { code, printed, warned } = await commandOn(disk('loom', files), 'loom');
    expect([code, printed]).toEqual([2, '']);
    expect(warned).toMatch(
      /^Fix these first: 6 faults in loom\.\n\nwires\.csv, row 4, column length mm\n {2}found: "1,200"\n/,
    );
  });

  test('of column names hide none of the cells below the other columns', async () => {
    const offers = FIRST['offers.csv']
      .replace('pieces in a pack', 'peices in a pack,rating')
      .replaceAll(/(,|10)\n(?!$|g)/g, '$1,5\n')
      .replace('1.20', 'dear');
    const wires = FIRST['wires.csv']
      .replace('620', 'long')
      .replace('length mm', 'length mm,to,Size')
      .split('\n');
    const { faults } = await read({ ...FIRST, 'offers.csv': offers, 'wires.csv': wires.join('\n') });
    const told = whereOf(faults);
    expect(told).toContain('offers.csv, row 1, column peices in a pack: unknown-column');
    expect(told).toContain('offers.csv, row 1, column rating: unknown-column');
    expect(told).toContain('offers.csv, row 4, column price: wrong-form');
    expect(told).toContain('wires.csv, row 1, column to: duplicate-column');
    expect(told.filter((each) => each.includes('missing'))).toEqual([]);
    const todos = new Map(faults.map(({ where, todo }) => [where, todo]));
    expect(todos.get('offers.csv, row 1, column peices in a pack')).toContain('“pieces in a pack”');
    expect(todos.get('offers.csv, row 1, column rating')).not.toContain('“');
  });

  test('of a part that there is not name those that can be meant, of the folder and of the starter catalogue', async () => {
    const files = {
      ...FIRST,
      'parts.csv': 'code,kind,description,terminal type\nclip-7,terminal,Clip,blade\n',
      'offers.csv': `${FIRST['offers.csv']}x,ash,pack,clip-8,1.00,10\ny,ash,pack,blade-r,1.00,10\nz,ash,pack,zz,1.00,10\n`,
    };
    const { faults } = await read(files);
    expect(faults.map(({ found, todo }) => [found, / Did you mean .*$/.exec(todo)?.[0]])).toEqual([
      ['"clip-8"', ' Did you mean clip-7?'],
      ['"blade-r"', ' Did you mean blade-s or blade-t?'],
      ['"zz"', undefined],
    ]);
  });

  test('of a column for watts say what to write', async () => {
    const wires = FIRST['wires.csv'].replace('length mm', 'watts').replaceAll(/620|300/g, '21');
    const { faults } = await read({ ...FIRST, 'wires.csv': wires });
    expect(faults[0]?.todo).toContain('amps = watts ÷ volts: write amps');
  });

  test('that are equal in one column are told once, with all their rows', async () => {
    const offers = FIRST['offers.csv'].trimEnd().split('\n');
    const days = [',seen on', ',1/2/2026', ',1/2/2026', ',3/4/2026', ',2026-11-02'];
    const text = offers.map((line, at) => line + (days[at] ?? '')).join('\n');
    const { warned } = await commandOn(disk('loom', { ...FIRST, 'offers.csv': `${text}\n` }), 'loom');
    expect(warned).toMatch(
      /^Fix these first: 3 faults in loom\.\n\noffers\.csv, rows 2 to 4, column seen on\n/,
    );
    expect(warned).toContain('found: "1/2/2026", "3/4/2026"\n');
    expect(warned).toContain('to do: Row 2: This can be 2026-02-01 or 2026-01-02.');
    expect(warned.match(/to do/g)).toHaveLength(1);
  });

  test('do not follow from others: of a row or file that cannot be read nothing else is said', async () => {
    const { faults } = await read({
      ...FIRST,
      'wires.csv': `${FIRST['wires.csv']}W3,pvc\n`,
      'parts.csv': 'code,kind,description,terminal type\nring-s,terminal,"never closed,ring\n',
      'coverings.csv': 'covering,kind,over\nC1,braided,B1\n',
    });
    expect(whereOf(faults)).toEqual(['wires.csv, row 4: ragged-row', 'parts.csv, row 2: quote-not-closed']);
  });

  test('name a file that is called nearly as one of the tables, and say what else is not read', async () => {
    const { faults, notes } = await read({ ...FIRST, 'wire.csv': '', 'point.csv': '', 'prices-old.csv': '' });
    expect(whereOf(faults)).toEqual(['point.csv: unknown-file']);
    expect(notes.join(' ')).toContain('prices-old.csv');
  });

  test('say which table is missing, and which file may be it', async () => {
    const { 'offers.csv': offers, 'suppliers.csv': suppliers, ...wires } = FIRST;
    const alone = await read(wires);
    expect(whereOf(alone.faults)).toEqual(['offers.csv: missing-file']);
    expect(alone.faults[0]?.todo).toMatch(/^Add offers\.csv/);
    const renamed = await read({ ...wires, 'prices.csv': offers, 'shops.xlsx': '' });
    expect(whereOf(renamed.faults)).toEqual(['offers.csv: missing-file']);
    expect(renamed.faults[0]?.todo).toContain('If "prices.csv" is this table, rename it offers.csv.');
    const sold = await read({ ...wires, 'offers.csv': offers, 'shops.xlsx': '' });
    expect(whereOf(sold.faults)).toEqual(['suppliers.csv: missing-file']);
    expect(sold.faults[0]?.todo).toContain('save it as “CSV UTF-8” and name it suppliers.csv');
    // A name with a slip in it is one fault.
    const slip = await read({ ...wires, 'offer.csv': offers, 'suppliers.csv': suppliers });
    expect(whereOf(slip.faults)).toEqual(['offer.csv: unknown-file']);
  });

  test('of a row that names no loom where there are several ask which one', async () => {
    const wires = FIRST['wires.csv']
      .replace('wire,', 'loom,wire,')
      .replace('W1', 'main,W1')
      .replace('W2', ',W2');
    const points = 'loom,point,kind\nrear,switch,device\n';
    const { faults } = await read({ ...FIRST, 'wires.csv': wires, 'points.csv': points });
    expect(whereOf(faults)).toContain('wires.csv, row 3, column loom: which-loom');
  });

  test('of rest.json are told as what they are', async () => {
    expect(whereOf((await read({ ...FIRST, 'rest.json': '{"request": }' })).faults)).toEqual([
      'rest.json: not-json',
    ]);
    const { faults } = await read({
      ...FIRST,
      'rest.json': '{"request":{"looms":[{"loom":"x","quantity":0}]}}',
    });
    expect(whereOf(faults)).toEqual(['rest.json: too-small', 'rest.json: unknown-loom']);
  });
});

describe('the command', () => {
  const nothing = () => disk('other', {});

  test.each([
    ['a folder without tables', ['loom'], 'There is no table in loom.'],
    ['--preview of a file', ['job.json', '--preview'], 'job.json is none'],
    ['--as-of without a day', ['loom', '--as-of'], '--as-of needs a value after it.'],
    ['--as-of that is no day', ['loom', '--as-of', '2/11/2026'], '2/11/2026 is none'],
    ['--template and a file', ['job.json', '--template', 'x'], 'leave out job.json'],
    ['--as-csv of nothing', ['ghost.json', '--as-csv', 'x'], 'There is no file ghost.json.'],
    ['an unknown flag', ['loom', '--fast'], 'There is no table'],
  ])('with %s has code 2 and says what to do', async (_what, argv, said) => {
    const { code, warned } = await commandOn(disk('loom', { 'photo.jpg': '' }), ...argv);
    expect(code).toBe(2);
    expect(warned).toContain(said);
  });

  test('prices a job file as it did', async () => {
    const files = nothing();
    files.set(
      'job.json',
      readFileSync(new URL('../../examples/three-wires/job.json', import.meta.url), 'utf8'),
    );
    const { code, printed } = await commandOn(files, 'job.json');
    expect(code).toBe(0);
    expect(printed).toContain('21.10 GBP');
  });

  test('says which table of a folder cannot be read, with code 2', async () => {
    const files = disk('loom', FIRST);
    const locked = Object.assign(new Error('EACCES'), { code: 'EACCES', path: 'loom/wires.csv' });
    const { code, warned } = await commandOn(files, 'loom', '--preview', locked);
    expect([code, warned]).toEqual([2, 'loom/wires.csv cannot be read: you do not have permission.\n']);
  });

  test('writes over nothing', async () => {
    const files = disk('there', { 'wires.csv': 'mine' });
    const { code, warned } = await commandOn(files, '--template', 'there');
    expect([code, files.get('there/wires.csv')]).toEqual([2, 'mine']);
    expect(warned).toContain('there has wires.csv already');
  });

  test('with --help prints one usage: what is priced, then the flags, then the exit codes', async () => {
    const { code, printed } = await commandOn(nothing(), '--help');
    expect(code).toBe(0);
    const order = ['\n  FILE ', '\n  FOLDER ', '\n  --out DIR ', '\n  --template FOLDER ', '\n  0  priced'];
    const places = order.map((words) => printed.indexOf(words));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places).not.toContain(-1);
    for (const flag of ['--preview', '--as-csv FOLDER', '--as-of DAY']) expect(printed).toContain(flag);
  });

  test.each([
    [['--preview']],
    [['--template', 'new', 'loom']],
    [['loom', '--as-of', 'today']],
    [['job.json', '--fast']],
    [[]],
  ])('called wrongly shows that usage once: %j', async (argv) => {
    const { printed: usage } = await commandOn(nothing(), '--help');
    const { code, warned } = await commandOn(nothing(), ...argv);
    expect(code).toBe(2);
    expect(warned.split(`\n\n${usage}`)).toEqual([expect.stringMatching(/^.+\.$/), '']);
  });
});
