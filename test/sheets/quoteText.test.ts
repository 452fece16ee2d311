import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { appendixText, firstPageText, fullText, quoteText } from '../../worker/sheets/quoteText.ts';
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

const REST = 'Ask for the appendix.';

describe('the first page of a quote', () => {
  test('says what it comes to and how sure that is, for which looms and from whom', async () => {
    const page = firstPageText(await fullResult());
    expect(page).toMatch(
      /^Quote as of 2026-03-02\n\n5\.39 GBP delivered, from 1 supplier, without 1 need that is not sourced\. Fix 1 stop first\. Proven: no other\nmix of the offers entered costs less\.\n/,
    );
    expect(page).toContain('- 2 × Test loom (l, revision 1)');
    // 2.5 m at 0.455 = 1.1375, printed 1.14; a pack of rings 1.25; postage 3.00: 5.3875, printed 5.39.
    expect(page).toMatch(/Supplier near +2\.39 +3\.00 +5\.39\nTotal +2\.39 +3\.00 +5\.39/);
  });

  test('says that it is not proven, and what it cannot be under: never more than is known', async () => {
    const result = await fullResult();
    const page = firstPageText({
      ...result,
      proof: { ...result.proof, status: 'bestSoFar', bound: gbp('5.00999') },
    });
    expect(page.replaceAll('\n', ' ')).toContain('Not proven; cannot be under 5.00 GBP.');
    expect(page).not.toContain('Proven:');
  });

  test('says what to fix, then what to ask, then what is not sourced, then what another way would cost', async () => {
    const result = await fullResult();
    const [stop] = result.findings;
    if (!stop) throw new Error('the sample has a finding');
    const note = { ...stop, severity: 'note' as const, found: 'a note' };
    const old = { ...stop, severity: 'warning' as const, code: 'price-may-be-old', where: 'offer o' };
    const asked = { ...note, code: 'lead-time-not-known', found: 'lead days' };
    const accepted = { ...old, code: 'x', found: 'known', accepted: 'it was made so' };
    const page = flat(firstPageText({ ...result, findings: [note, asked, stop, old, old, accepted] }));
    expect(page).toMatch(
      /Fix these first: - STOP: loom l, wire W9: no length\. .*Ask or check before you order: - Note: .* lead days.*- Warning: 2 prices were seen too long ago\..*Not sourced, so not in this price: - .*What another way would cost: - Each line at its cheapest single price, postage added: 8\.30 GBP, 2\.91 more, from 2 suppliers/,
    );
    expect(page).not.toContain('a note');
    expect(page).not.toContain('known.');
  });

  test('says that nothing is bought', async () => {
    const text = fullText(
      await priced(jobOf({ parts: [consumable('tie')], loom: { parts: [{ part: 'tie', quantity: 1 }] } })),
    );
    expect(text).toContain('Nothing is bought.');
    for (const title of ['Order lists', 'Cost', 'Other ways to buy', 'Cut list', 'Cut lengths as sums'])
      expect(text).not.toContain(`== ${title} `);
  });
});

describe('a printed quote', () => {
  test('goes on with order lists, needs and the cut list, and ends with how to see the rest', async () => {
    const text = quoteText(await fullResult(), REST);
    const titles = [...text.matchAll(/^== (.*?) =+$/gm)].map(([, title]) => title);
    expect(titles).toEqual(['Order lists', 'What is needed', 'Cut list']);
    expect(text.endsWith(`\n\n\n${REST}\n`)).toBe(true);
    expect(fullText(await fullResult())).not.toContain(REST);
  });

  test('has a line for each need, with what is not bought and why', async () => {
    const needs = section(quoteText(await fullResult(), REST), 'What is needed');
    expect(needs).toMatch(/^thin-wall 1 mm² red +2\.132 m$/m);
    expect(needs).toMatch(/^.* ring +3$/m);
    expect(needs).toMatch(/^thin-wall 1 mm² red +reused from the old loom +2\.132 m$/m);
  });

  test('has a line for each piece under the length that it comes from, the longest first', async () => {
    const cut = section(quoteText(await fullResult(), REST), 'Cut list');
    // 1000 + 30 + 2 × 6 + 2 × 12 = 1066, twice, out of 2.5 m.
    expect(cut).toMatch(
      /^From 2\.5 m of thin-wall 1 mm² red, Supplier near\. 0\.368 m is left\.\n\[ \] {2}W1 +red +1 mm² +2 × 1066 +A: bare +B: ring$/m,
    );
    expect(flat(cut)).toContain('Take care: - Disconnect the battery');
  });
});

describe('the appendix of a quote', () => {
  test('gives the sums that led to metres, counts and cut lengths', async () => {
    const text = appendixText(await fullResult());
    expect(section(text, 'Needs as sums')).toContain('2 × 1066 = 2132 mm');
    expect(flat(section(text, 'Needs as sums'))).toContain('2 used + 1 spare = 3 pieces');
    expect(section(text, 'Cut lengths as sums')).toContain('= 1066 → 1066 mm');
  });

  test('gives cost lines with the rounding, and the total', async () => {
    const text = appendixText(await fullResult());
    expect(section(text, 'Cost')).toMatch(/Postage of Supplier near +3\.00\n[\s\S]*Total, GBP +5\.39$/);
  });

  test('says what is not sourced, with what to do', async () => {
    expect(section(appendixText(await fullResult()), 'Not sourced')).toContain('Enter an offer for');
  });

  test('says that it is proven, and on what assumptions', async () => {
    const text = section(appendixText(await fullResult()), 'Proof');
    expect(text).toMatch(/^Proven: no other mix/);
    expect(text).toContain('Assumptions:\n- Each supplier sends all goods of an order in one parcel');
  });

  test('says that it is not proven, and by how much it could be less', async () => {
    const result = await fullResult();
    const proof = { ...result.proof, status: 'bestSoFar' as const };
    const text = appendixText({
      ...result,
      proof: { ...proof, bound: gbp('5.00'), gap: gbp('0.3875'), gapPercent: 7.1926 },
    });
    expect(flat(section(text, 'Proof'))).toContain(
      'it comes to 5.3875 GBP, not rounded. No mix can cost less than 5.00 GBP: at most 0.3875 GBP (7.1926 %) less.',
    );
  });

  test('has all that was found in full, the gravest first', async () => {
    const result = await fullResult();
    const [stop] = result.findings;
    if (!stop) throw new Error('the sample has a finding');
    const note = { ...stop, severity: 'note' as const };
    const warning = { ...stop, severity: 'warning' as const, source: 'a standard, its table 1' };
    const accepted = { ...note, accepted: 'it was made so' };
    const text = appendixText({ ...result, findings: [note, stop, warning, accepted] });
    expect(section(text, 'What was found')).toMatch(
      /^- STOP: loom l, wire W9: no length\. [\s\S]*\n- Warning: loom l, wire W9: no length \(source: a standard, its table 1\)\.[\s\S]*\n- Note: [\s\S]*Accepted as original: it was made so/,
    );
  });

  test('names the settings that somebody set, and counts those at their default', async () => {
    const result = await fullResult();
    const count = Object.keys(result.settings).length;
    const set = { ...result.settings, slackPercent: { value: 4, origin: 'quote' as const } };
    const all = Object.fromEntries(
      Object.entries(result.settings).map(([name, { value }]) => [
        name,
        { value, origin: 'default' as const },
      ]),
    );
    const text = flat(section(appendixText({ ...result, settings: set }), 'Settings'));
    expect(text).toMatch(/slackPercent Slack added .* 4 quote/);
    expect(text).not.toContain('tailMm');
    expect(section(appendixText({ ...result, settings: all }), 'Settings')).toBe(
      `All ${count} settings of the quote are at their default.`,
    );
  });

  test('lists what is not yet used, and the cautions', async () => {
    const text = appendixText(await fullResult());
    expect(section(text, 'Accepted, but not yet used in this quote')).toContain('looms[].look');
    expect(section(text, 'Take care')).toContain('battery');
  });
});

describe('every page of text', () => {
  test('stays within 110 characters a line and trails no blanks, whatever the quote', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJob, async (job) => {
        const result = await priced(job);
        const lines = fullText(result).split('\n');
        expect(lines.filter((line) => line.length > 110 || line !== line.trimEnd())).toEqual([]);
        expect(firstPageText(result).split('\n').length).toBeLessThanOrEqual(40);
      }),
      { numRuns: 25 },
    );
  });

  test('stays within the page with the longest names that the model takes', async () => {
    const long = 'x'.repeat(200);
    const words = 'a very long description '.repeat(8).trim();
    const result = await fullResult();
    const text = fullText({
      ...result,
      looms: result.looms.map((loom) => ({ ...loom, name: long, options: [long, words] })),
      orderLists: result.orderLists.map((list) => ({
        ...list,
        name: long,
        reference: long,
        contact: { email: long },
        lines: list.lines.map((line) => ({ ...line, description: words, supplierCode: long, holds: long })),
      })),
    });
    expect(text.split('\n').filter((line) => line.length > 110)).toEqual([]);
  });
});
