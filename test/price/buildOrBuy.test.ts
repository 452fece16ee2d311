import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { runPrice, type Surroundings } from '../../worker/price/run.ts';

const EXAMPLE = new URL('../../examples/build-or-buy/job.json', import.meta.url);

type Document = { request: { buildOrBuy?: object; settings?: object } };

/** Prices the example with its request changed; nothing is written. */
async function run(change: (document: Document) => void, ...flags: string[]) {
  const document = JSON.parse(readFileSync(EXAMPLE, 'utf8')) as Document;
  change(document);
  document.request.settings = { ...document.request.settings, besideSeconds: 0 };
  const told = { printed: '', warned: '' };
  const around: Surroundings = {
    readFile: () => Promise.resolve(JSON.stringify(document)),
    writeFile: () => Promise.resolve(),
    print: (text) => void (told.printed += text),
    warn: (text) => void (told.warned += text),
    progress: () => undefined,
    now: () => 0,
  };
  const code = await runPrice(['job.json', ...flags], around);
  return { code, ...told };
}

const asItIs = () => undefined;
const notAsked = ({ request }: Document) => void delete request.buildOrBuy;

describe('the price command', () => {
  test('compares building with buying made only if it is asked to', async () => {
    expect((await run(notAsked)).printed).not.toContain('Build or buy');
    // No pliers are shared and no blades counted then, 42.80; buying is 136.89, so that building saves 94.09.
    const { printed, code } = await run(notAsked, '--build-or-buy');
    expect([code, printed]).toEqual([0, expect.stringContaining('Building saves 94.09 GBP and takes')]);
    expect(printed.replaceAll(/\s+/g, ' ')).toContain('Your hours are counted at 0.');
  });

  test('counts the hours at what it is told, and keeps what the request says of the rest', async () => {
    // 33.80 and 296 minutes against 136.89 and 52: at 30.00 an hour 181.80 and 162.89.
    const { printed } = await run(asItIs, '--hour-worth', '30');
    expect(printed.replaceAll(/\s+/g, ' ')).toContain(
      'at your 30.00 GBP an hour buying is cheaper by 18.91 GBP',
    );
  });

  test.each([
    ['a negative worth', ['--hour-worth=-5'], 'An amount is not negative here; "-5" is.'],
    ['a negative worth after a space', ['--hour-worth', '-5'], 'An amount is not negative here; "-5" is.'],
    ['a worth of a third decimal', ['--hour-worth', '5.123'], 'Amounts in GBP have at most 2 decimals here.'],
    ['a worth that is no amount', ['--hour-worth', 'much'], '"much" is none'],
    ['both questions at once', ['--wins-at', 'x', '--build-or-buy'], 'leave out --build-or-buy'],
  ])('refuses %s', async (_, flags, words) => {
    const { code, warned, printed } = await run(asItIs, ...flags);
    expect([code, printed]).toEqual([2, '']);
    expect(warned).toContain(words);
  });
});

describe('a request whose amounts cannot be counted', () => {
  test('is told which have no rate, and which tool sells for more than it is bought for', async () => {
    const { printed } = await run(({ request }) => {
      request.buildOrBuy = {
        hourWorth: '5.00 USD',
        tools: [{ part: 'teal-pliers', sellsFor: '24.01 GBP' }],
      };
    });
    const words = printed.replaceAll(/\s+/g, ' ');
    expect(words).toContain('build or buy, hourWorth: USD, for which there is no rate on 2026-11-20.');
    expect(words).toContain('24.01 GBP, more than it is bought for. It is counted as costing nothing.');
  });
});
