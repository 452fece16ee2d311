import { readFile } from 'node:fs/promises';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { runPrice, type Surroundings } from '../../worker/price/run.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import { appendixText, fullText } from '../../worker/sheets/quoteText.ts';
import {
  consumable,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  unhurried,
  wire,
} from '../engine/fixtures.ts';
import { run, runIn } from './onText.ts';

const job = () =>
  needing(
    { tie: 3, clip: 1 },
    [supplier('ash', ['0', '2']), supplier('elm')],
    [pack('a', 'ash', 'tie', 1, '1'), pack('e', 'elm', 'clip', 1, '2')],
  );

describe('a good job file', () => {
  test('is printed as a quote that says at its end how to see the rest', async () => {
    const { code, printed, warned } = await run(JSON.stringify(job()));
    expect([code, warned]).toEqual([0, '']);
    expect(printed).toMatch(/^Quote as of 2026-03-02\n/);
    expect(printed).toMatch(/run this again with --full, or with --out\s+DIR to have all as files\.\n$/);
    expect(printed).not.toContain('== Proof ');
  });

  test('names the order lists of an earlier quote that are still in the folder', async () => {
    const { warned } = await run(JSON.stringify(job()), '--out', 'there');
    expect(warned).toContain('Delete these, they are from an earlier quote: order-oak.txt\n');
  });

  test('that asks for more time than its club lets it have is refused, as the server does it', async () => {
    const long = job();
    Object.assign(long.club, { settings: { secondsAtMost: 60 } });
    Object.assign(long.request, { settings: { solverSeconds: 61 } });
    const { code, warned } = await run(JSON.stringify(long));
    expect(code).toBe(2);
    expect(warned).toMatch(/61\s+s[^]*[Aa]t\s+most\s+60\s+s[^]*secondsAtMost/);
  });

  test('is printed with its appendix with --full', async () => {
    const { code, printed } = await run(JSON.stringify(job()), '--full');
    expect([code, printed]).toEqual([0, fullText(await priced(job()))]);
  });

  test('is printed as the canonical JSON of its result and a line end with --json', async () => {
    const { code, printed, warned } = await run(JSON.stringify(job()), '--json');
    expect([code, warned]).toEqual([0, '']);
    expect(printed).toBe(`${canonicalJson(await priced(job()))}\n`);
  });

  test('gives the same bytes whatever its white space and byte order mark', async () => {
    const once = await run(JSON.stringify(job()), '--json');
    expect((await run(`\uFEFF${JSON.stringify(job(), null, 2)}`, '--json')).printed).toBe(once.printed);
  });

  test('is written out as result, appendix, each sheet in its forms, all in one PDF and three files a supplier with --out', async () => {
    const { code, printed, files } = await run(JSON.stringify(job()), '--out', 'there', '--json');
    expect(code).toBe(0);
    const sheets = ['quote', 'orders', 'cutting', 'labels', 'build', 'test'].flatMap((name) =>
      ['txt', 'html', 'pdf', ...(name === 'quote' ? [] : ['csv'])].map((ending) => `there/${name}.${ending}`),
    );
    const orders = ['ash', 'elm'].flatMap((code) =>
      ['csv', 'html', 'txt'].map((ending) => `there/order-${code}.${ending}`),
    );
    const others = ['all.pdf', 'appendix.html', 'appendix.txt', 'result.json'].map((name) => `there/${name}`);
    expect([...files.keys()].sort()).toEqual([...sheets, ...orders, ...others].sort());
    expect(files.get('there/result.json')).toBe(printed);
    expect(files.get('there/order-ash.csv')).toContain('Postage');
    expect(files.get('there/appendix.txt')).toBe(appendixText(await priced(job())));
    expect(files.get('there/quote.txt')).toContain('appendix.txt');
    for (const [name, content] of files) if (name.endsWith('.pdf')) expect(content).toMatch(/^%PDF-/);
  });

  test('is written out as the sheets that --sheets names, for the paper that is asked for', async () => {
    const flags = ['--out', 'there', '--sheets', 'test,cutting', '--paper', 'letter'];
    const { files } = await run(JSON.stringify(job()), ...flags);
    const names = [...files.keys()].map((path) => path.replace(/^there\/(.*)\.\w+$/, '$1'));
    expect(names.join(' ')).toBe('cutting cutting cutting test test test cutting test all');
    expect(files.get('there/cutting.pdf')).toContain('[0 0 612 792]');
  });

  test('is printed as the sheets that are asked for where there is no folder', async () => {
    expect((await run(JSON.stringify(job()), '--sheets=orders')).printed).toMatch(
      /^Order lists\n(?![^]*What is needed)/,
    );
  });

  test.each([
    [
      ['--sheets', 'cuting'],
      'There is no sheet cuting. The sheets are quote, orders, cutting, labels, build, test.',
    ],
    [['--out', 'there', '--paper', 'a5'], 'There is no paper a5.'],
    [['--sheets', 'test', '--wins-at', 'x'], '--wins-at prints no sheets'],
  ])('is not worked with %j', async (flags, why) => {
    const { code, warned, files } = await run(JSON.stringify(job()), ...flags);
    expect([code, warned, files.size]).toEqual([2, expect.stringContaining(why), 0]);
  });

  test('of which nobody sells a part is worked all the same, with a warning and code 0', async () => {
    const { code, warned } = await run(JSON.stringify(needing({ tie: 1 }, [], [])));
    expect(code).toBe(0);
    expect(warned).toMatch(
      /^Not sourced, so not in this price:\n\n- Warning: Part tie: No offer sells tie\. .*\n$/,
    );
  });

  describe('with a wire without length', () => {
    const unmeasured = (more: object = {}) => {
      const { length: _none, ...bare } = wire('W9');
      const loom = {
        points: points('A', 'B'),
        wires: [bare],
        parts: [{ part: 'tie', quantity: 1 }],
        ...more,
      };
      return jobOf({ parts: [consumable('tie')], loom });
    };

    test('is priced, and its code is 3, since a finding stops it', async () => {
      expect((await run(JSON.stringify(unmeasured()))).code).toBe(3);
      expect((await run(JSON.stringify(unmeasured()), '--json')).code).toBe(3);
    });

    test('tells the findings on the error stream in the very words of the printed quote', async () => {
      const { printed, warned } = await run(JSON.stringify(unmeasured()), '--full');
      const [onPaper = ''] =
        /- STOP: loom l, wire W9: no length[\s\S]*?(?=\n\n|\n- )/.exec(
          printed.split('== What was found')[1] ?? '',
        ) ?? [];
      expect(onPaper).toContain('STOP');
      expect(warned).toContain(`Fix these first:\n\n${onPaper}\n\n`);
      expect(warned).toContain(
        'Not sourced, so not in this price:\n\n- Warning: Part tie: No offer sells tie.',
      );
    });

    test('tells them once where the quote and the error stream are read in one terminal', async () => {
      const text = JSON.stringify(unmeasured());
      const terminal = { oneTerminal: true };
      const { code, printed, warned } = await runIn(terminal, text);
      expect(code).toBe(3);
      expect(printed.match(/- STOP: loom l, wire W9: no length/g)).toHaveLength(1);
      expect(printed).toContain('Not sourced, so not in this price');
      expect(warned).toMatch(/^\nIf one of these is right as the vehicle was made, accept it .*\n$/);
      // Its JSON has no page.
      expect((await runIn(terminal, text, '--json')).warned).toBe(`\n${(await run(text)).warned}`);
    });

    test('tells those of them in full there that the first page leaves out', async () => {
      const { length: _none, ...bare } = wire('W9');
      const wires = Array.from({ length: 60 }, (_, at) => ({ ...bare, id: `W${at + 100}` }));
      const text = JSON.stringify(jobOf({ parts: [], loom: { points: points('A', 'B'), wires } }));
      const { printed, warned } = await runIn({ oneTerminal: true }, text);
      const told = (of: string) => of.match(/- STOP: loom l, wire W\d+: no length/g) ?? [];
      expect(told(printed).length).toBeGreaterThan(0);
      expect(told(warned).length).toBeGreaterThan(0);
      expect(new Set([...told(printed), ...told(warned)]).size).toBe(60);
      expect(told(printed).length + told(warned).length).toBe(60);
    });

    test('has code 0 where its loom accepts that as original', async () => {
      const [finding] = (await priced(unmeasured())).findings.filter(({ severity }) => severity === 'stop');
      const { code: found = '', subject = '' } = finding ?? {};
      const asOriginal = [{ finding: found, subject, note: 'Cut on the vehicle' }];
      const { code, warned } = await run(JSON.stringify(unmeasured({ asOriginal })));
      expect(code).toBe(0);
      expect(warned).not.toContain('STOP');
    });
  });
});

describe('with --wins-at', () => {
  const two = () =>
    needing(
      { tie: 3 },
      [supplier('ash'), supplier('elm')],
      [pack('a', 'ash', 'tie', 1, '1.00'), pack('e', 'elm', 'tie', 1, '1.20')],
    );

  test('a job file is asked at which price the offer is bought, in sentences', async () => {
    const { code, printed, warned, files } = await run(JSON.stringify(two()), '--wins-at', 'e');
    expect([code, warned, files.size]).toEqual([0, '', 0]);
    expect(printed).toContain('Offer e of Supplier elm, as of 2026-03-02, at 1.20 GBP a pack.');
    expect(printed).toContain(
      'It wins at 1.00 GBP a pack. That is 16.6667 % less. At 1.01 it is not bought.',
    );
    expect(printed).toContain('comes to 3.00 GBP; without the offer it comes to 3.00.');
    expect(printed).toContain('Proven.');
  });

  test('and --json the answer is printed as JSON and a line end', async () => {
    const { code, printed } = await run(JSON.stringify(two()), '--wins-at', 'e', '--json');
    expect(code).toBe(0);
    expect(printed).toBe(`${canonicalJson(await winningPrice(two(), 'e', unhurried))}\n`);
  });

  test('an offer that is bought is told how far it may rise', async () => {
    const { printed } = await run(JSON.stringify(two()), '--wins-at', 'a');
    expect(printed).toContain('It is bought already, and stays so up to 1.20 GBP a pack. That is 20 % more.');
  });

  test('an offer that is not in the file, or cannot be bought, has code 2 and is told why', async () => {
    const [first, second] = two().offers;
    const used = { ...two(), offers: [first, { ...second, condition: 'used' }] };
    const ghost = await run(JSON.stringify(used), '--wins-at', 'ghost');
    expect([ghost.code, ghost.printed]).toEqual([2, '']);
    expect(ghost.warned).toContain('none with the code ghost');
    const refused = await run(JSON.stringify(used), '--wins-at', 'e');
    expect(refused.code).toBe(2);
    expect(refused.warned).toContain('condition used');
  });
});

describe('a job file with stopsBlock on', () => {
  const { length: _none, ...unmeasured } = wire('W9');
  const blocked = (more: object) =>
    JSON.stringify(
      jobOf({
        loom: { points: points('A', 'B'), wires: [unmeasured], ...more },
        request: { looms: [{ loom: 'l', quantity: 1 }], settings: { stopsBlock: true } },
      }),
    );

  test('is not quoted where the checks stop it: these are printed, nothing is written, and the code is 2', async () => {
    const { code, printed, warned, files } = await run(blocked({}), '--out', 'there');
    expect([code, printed, files.size]).toEqual([2, '', 0]);
    expect(warned).toContain(
      'job.json is not priced: the setting stopsBlock is on, and 1 fault must be fixed first.\n\n- STOP: loom l, wire W9: no length. ',
    );
    expect(warned).toContain('turn stopsBlock off');
  });

  test('is quoted where nothing stops it', async () => {
    expect((await run(blocked({ wires: [wire('W9')] }))).code).toBe(0);
  });
});

describe('a bad job file', () => {
  test('gets every fault at once with pointer, place, what was found and what to do, and code 2', async () => {
    const document = job();
    const bad = {
      ...document,
      offers: document.offers.map((offer) => ({ ...offer, packCount: 0, packPrice: gbp('x') })),
      surprise: true,
    };
    const { code, printed, warned } = await run(JSON.stringify(bad));
    expect([code, printed]).toEqual([2, '']);
    for (const at of [
      '/offers/0/packCount',
      '/offers/1/packCount',
      '/offers/0/packPrice/amount',
      '/surprise',
    ])
      expect(warned).toContain(`\n${at}\n  where: `);
    expect(warned).toContain('where: offer a, packCount\n  found: 0\n  limit: at least 1\n  to do: ');
  });

  test('that names what is not in it is told so', async () => {
    const document = job();
    const bad = { ...document, request: { looms: [{ loom: 'ghost', quantity: 1 }] } };
    const { code, warned } = await run(JSON.stringify(bad));
    expect(code).toBe(2);
    expect(warned).toContain('/request/looms/0/loom');
    expect(warned).toContain('There is no loom ghost');
  });

  test('that names an unknown part in a fit or an offer is told which parts can be meant', async () => {
    const document = job();
    const bad = {
      ...document,
      offers: document.offers.map((offer) => ({ ...offer, part: 'clib' })),
      fits: [{ from: 'ties', relation: 'standsInFor', to: 'grommet' }],
    };
    const { code, warned } = await run(JSON.stringify(bad));
    expect(code).toBe(2);
    expect(warned).toMatch(/There is no part clib.*\. Did you mean clip\?\n/);
    expect(warned).toMatch(/There is no part ties.*\. Did you mean tie\?\n/);
    expect(warned).toMatch(/There is no part grommet[^?\n]*$/m);
  });

  test('that is not JSON is told line and column', async () => {
    const { code, warned } = await run('{\n  "format": "loomwright-job",\n  "version": 1,,\n}');
    expect(code).toBe(2);
    expect(warned).toContain('line 3, column 16');
  });

  const emptyFile = 'job.json is empty. Name a job file; examples/ has some to start from.\n';
  test('that is empty, or no document at all, has code 2', async () => {
    for (const nothing of ['', '\uFEFF', ' \n'])
      expect(await run(nothing)).toMatchObject({ code: 2, warned: emptyFile });
    expect((await run('null')).code).toBe(2);
    expect((await run('[]')).code).toBe(2);
  });

  test('that cannot be read has code 2, and says which file', async () => {
    const { code, warned } = await run(new Error('no such file'));
    expect(code).toBe(2);
    expect(warned).toBe('job.json cannot be read: no such file\n');
  });

  test.each([
    ['ENOENT', 'There is no file job.json.\n'],
    ['EISDIR', 'job.json is a folder. Name a file in it.\n'],
    ['EACCES', 'job.json cannot be read: you do not have permission.\n'],
  ])('that is not there, a folder or locked (%s) is told so in plain words', async (code, said) => {
    const { warned } = await run(Object.assign(new Error(`${code}: open 'job.json'`), { code }));
    expect(warned).toBe(said);
  });
});

describe('the command line', () => {
  const nothing: Surroundings = {
    readFile: () => Promise.reject(new Error('nothing is read')),
    writeFile: () => Promise.reject(new Error('the disk is full')),
    print: () => undefined,
    warn: () => undefined,
    progress: () => undefined,
    now: () => 0,
  };
  const warnedBy = async (...argv: string[]) => {
    let warned = '';
    const code = await runPrice(argv, { ...nothing, warn: (text) => (warned += text) });
    return { code, warned };
  };

  test.each([
    ['no file', [], 'Name a job file'],
    ['two files', ['a', 'b'], 'Name one job file'],
    ['an unknown flag', ['a', '--fast'], 'There is no flag --fast.\n'],
    ['a flag mistyped', ['a', '--jsno'], 'There is no flag --jsno. Did you mean --json?'],
    ['a value after --json', ['a', '--json=yes'], '--json takes no value.'],
    ['--out without a folder', ['a', '--out'], '--out needs a value after it.'],
    ['--out before another flag', ['a', '--out', '--json'], '--out needs a value after it.'],
    ['--out with an empty name', ['a', '--out='], '--out needs a value after it.'],
    ['--wins-at without an offer', ['a', '--wins-at='], '--wins-at needs a value after it.'],
    ['--wins-at and --out', ['a', '--wins-at', 'o', '--out', 'd'], 'leave out --out'],
    ['--full and --json', ['a', '--full', '--json'], 'leave out --json'],
    ['--full and --wins-at', ['a', '--full', '--wins-at', 'o'], 'leave out --wins-at'],
  ])('with %s has code 2 and shows how it is used', async (_what, argv, said) => {
    const { code, warned } = await warnedBy(...argv);
    expect(code).toBe(2);
    expect(warned).toContain(said);
    expect(warned).toContain('npm run price -- FILE');
  });

  test.each([[['--help']], [['a', '-h']], [['--fast', '--help']]])(
    'with --help prints how it is used and what its exit codes say: %j',
    async (argv) => {
      let printed = '';
      const code = await runPrice(argv, { ...nothing, print: (text) => (printed += text) });
      expect(code).toBe(0);
      expect(printed).toContain('npm run price -- FILE');
      for (const line of [/^ {2}0 {2}priced/m, /^ {2}2 {2}not priced,/m, /^ {2}3 {2}priced, but .* STOP$/m])
        expect(printed).toMatch(line);
    },
  );

  test('says which sheet cannot be written, with code 2, and prints the quote all the same', async () => {
    let [warned, printed] = ['', ''];
    const code = await runPrice(['job.json', '--out', 'there'], {
      ...nothing,
      readFile: async () => JSON.stringify(job()),
      print: (text) => (printed += text),
      warn: (text) => (warned += text),
    });
    expect(code).toBe(2);
    expect(warned).toBe('result.json cannot be written to there: the disk is full\n');
    expect(printed).toMatch(/^Quote as of 2026-03-02\n/);
  });

  test('has code 1 for a fault of its own, and prints no stack', async () => {
    let warned = '';
    const code = await runPrice(['job.json'], {
      ...nothing,
      readFile: async () => JSON.stringify(job()),
      print: () => {
        throw new Error('broken inside');
      },
      warn: (text) => (warned += text),
    });
    expect(code).toBe(1);
    expect(warned).toBe('Something went wrong inside: broken inside\n');
  });

  test('gives the solver the seconds that the job sets, by the clock it is given', async () => {
    const slow = { ...job(), request: { ...job().request, settings: { solverSeconds: 5 } } };
    let clock = 0;
    let printed = '';
    const code = await runPrice(['job.json'], {
      ...nothing,
      readFile: async () => JSON.stringify(slow),
      now: () => (clock += 6000),
      print: (text) => (printed += text),
    });
    expect(code).toBe(0);
    expect(printed).toContain('Not proven');
  });
});

test('the example worked by hand comes out as its README says', async () => {
  const text = await readFile(new URL('../../examples/three-wires/job.json', import.meta.url), 'utf8');
  const { code, printed, warned } = await run(text);
  expect([code, warned]).toEqual([0, '']);
  expect(printed).toContain('21.10 GBP delivered, from 2 suppliers.');
  expect((await run(text, '--full')).printed).toContain('comes to 21.1025');
});
