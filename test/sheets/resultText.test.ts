import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { resultText } from '../../worker/sheets/resultText.ts';
import { arbitraryJob } from '../engine/arbitraryJob.ts';
import { jobOf, priced, consumable } from '../engine/fixtures.ts';
import { fullResult, gbp } from './sample.ts';

/** Wrapped lines as one. */
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

/** The text of one section, by its title. */
function section(text: string, title: string): string {
  const found = new RegExp(`== ${title} =+\\n\\n([\\s\\S]*?)(?=\\n\\n\\n== |\\n$)`).exec(text);
  if (!found?.[1]) throw new Error(`no section ${title}`);
  return found[1];
}

describe('a printed quote', () => {
  test('opens with looms, price, and what is wrong with it', async () => {
    const text = resultText(await fullResult());
    expect(text).toMatch(
      /^Quote as of 2026-03-02\n {2}2 × Test loom \(l, revision 1\)\n\n.*GBP delivered, from 1 supplier\. Not in this price: 1 need that no offer meets/,
    );
    expect(flat(text)).toContain('Mend first: 1 fault');
  });

  test('gives metres and counts with the sums that led to them', async () => {
    const text = resultText(await fullResult());
    // 1000 + 30 + 2 × 6 + 2 × 12 = 1066; two looms.
    expect(section(text, 'Wire needed')).toContain('2.132 m');
    expect(section(text, 'Wire needed')).toContain('2 × 1066 = 2132 mm');
    expect(flat(section(text, 'Parts needed'))).toContain('2 used + 1 spare = 3 pieces');
    expect(section(text, 'Cut lengths')).toContain('= 1066 → 1066 mm');
  });

  test('says what is left out and why', async () => {
    expect(section(resultText(await fullResult()), 'Needed, but not bought')).toMatch(
      /thin-wall 1 mm² red +2\.132 m +reused from the old loom +l: wire W2/,
    );
  });

  test('gives order lists, cost lines and total', async () => {
    const text = resultText(await fullResult());
    // 2.5 m at 0.455 = 1.1375, printed 1.14; a pack of rings 1.25; postage 3.00: 5.3875, printed 5.39.
    expect(section(text, 'Orders')).toContain('2.5 m in one length');
    expect(section(text, 'Cost')).toMatch(/Postage of Supplier near +3\.00\n[\s\S]*Total, GBP +5\.39$/);
  });

  test('says what is not sourced, with what to do', async () => {
    expect(section(resultText(await fullResult()), 'Not sourced')).toContain('Enter an offer for');
  });

  test('says in plain words that it is proven, and on what assumptions', async () => {
    const text = section(resultText(await fullResult()), 'Proof');
    expect(text).toMatch(/^Proven cheapest: no other mix/);
    expect(text).toContain('- Each supplier sends all goods of an order in one parcel');
  });

  test('says in plain words that it is not proven, and how much could still be saved', async () => {
    const result = await fullResult();
    const text = resultText({
      ...result,
      proof: {
        ...result.proof,
        status: 'bestSoFar',
        bound: gbp('5.00'),
        gap: gbp('0.3875'),
        gapPercent: 7.1926,
      },
    });
    expect(flat(text)).toMatch(
      /delivered, from 1 supplier\. Not proven the cheapest: at most 7\.1926 % could still be saved \(see: Proof\)\./,
    );
    expect(flat(section(text, 'Proof'))).toContain(
      'Not proven: this is the cheapest mix found. It comes to 5.3875 GBP, not rounded; no mix costs less than 5.00 GBP, so at most 0.3875 GBP (7.1926 %) could still be saved.',
    );
  });

  test('shows the comparison and the saving', async () => {
    // Each line at its cheapest: 3 m at 0.35 and postage 3.00; rings 1.25 and postage 3.00: 8.30, 2.91 above 5.39.
    expect(flat(section(resultText(await fullResult()), 'Compared'))).toContain('postage added 2 8.30 2.91');
  });

  test('tells first what must be mended, and at its end what else was found, the gravest first', async () => {
    const result = await fullResult();
    const [stop] = result.findings;
    if (!stop) throw new Error('the sample has a finding');
    const note = { ...stop, severity: 'note' as const };
    const warning = { ...stop, severity: 'warning' as const, source: 'a standard, its table 1' };
    const accepted = { ...note, accepted: 'it was made so' };
    const text = resultText({ ...result, findings: [note, stop, warning, accepted] });
    expect(section(text, 'Mend first')).toMatch(/^- STOP: loom l, wire W9: no length\. .*$/m);
    expect(text.indexOf('== Mend first')).toBeLessThan(text.indexOf('== Wire needed'));
    expect(section(text, 'Found in the input')).toMatch(
      /^- Warning: loom l, wire W9: no length \(source: a standard, its table 1\)\.[\s\S]*\n- Note: [\s\S]*Accepted as original: it was made so/,
    );
    expect(section(text, 'Found in the input')).not.toContain('STOP');
  });

  test('lists what is not yet used, and the cautions', async () => {
    const text = resultText(await fullResult());
    expect(section(text, 'Accepted, but not yet used in this quote')).toContain('looms[].look');
    expect(section(text, 'Take care')).toContain('battery');
  });

  test('leaves out sections that would be empty', async () => {
    const text = resultText(
      await priced(jobOf({ parts: [consumable('tie')], loom: { parts: [{ part: 'tie', quantity: 1 }] } })),
    );
    expect(text).toContain('Nothing is bought.');
    for (const title of ['Orders', 'Cost', 'Compared', 'Found in the input', 'Cut lengths'])
      expect(text).not.toContain(`== ${title} `);
  });

  test('stays within 110 characters a line and trails no blanks, whatever the quote', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJob, async (job) => {
        const lines = resultText(await priced(job)).split('\n');
        expect(lines.filter((line) => line.length > 110 || line !== line.trimEnd())).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  test('stays within the page with the longest names that the model takes', async () => {
    const long = 'x'.repeat(200);
    const words = 'a very long description '.repeat(8).trim();
    const result = await fullResult();
    const text = resultText({
      ...result,
      orderLists: result.orderLists.map((list) => ({
        ...list,
        lines: list.lines.map((line) => ({ ...line, description: words, supplierCode: long })),
      })),
    });
    expect(text.split('\n').filter((line) => line.length > 110)).toEqual([]);
  });
});
