import { importTable } from '../../worker/tables/importTable.ts';
import { tableOf } from '../../worker/tables/tables.ts';
import { tableText } from '../../worker/tables/write.ts';

/**
 * How long a large price list takes: 50,000 offers as CSV, read, checked and compared with what is stored, of which every
 * tenth has another price. Prints seconds of processor and the most memory held.
 */
const COUNT = 50_000;
const GBP = { currency: 'GBP' };

function offer(at: number, amount: string): Record<string, unknown> {
  return {
    form: 'pack',
    code: `offer-${at}`,
    supplier: `supplier-${at % 40}`,
    supplierCode: `ORD-${at}`,
    condition: 'new',
    seenOn: '2026-11-02',
    part: `part-${at % 9000}`,
    packCount: 10,
    packPrice: { amount, currency: 'GBP' },
    minimumPacks: 1,
    stepPacks: 1,
    breaks: [{ fromPacks: 10, packPrice: { amount: '2.00', currency: 'GBP' } }],
    note: 'as on the list, “large” bag',
  };
}

const numbers = Array.from({ length: COUNT }, (_, at) => at);
let text = '';
for await (const chunk of tableText(
  tableOf('offers'),
  numbers.map((at) => offer(at, '2.40')),
  { context: () => GBP },
))
  text += chunk;
const bytes = Buffer.from(text);
text = '';

const before = process.cpuUsage();
const summary = await importTable({
  table: tableOf('offers'),
  bytes: (async function* () {
    for (let at = 0; at < bytes.length; at += 65_536) yield bytes.subarray(at, at + 65_536);
  })(),
  options: { context: () => GBP },
  existing: async (keys) =>
    new Map(
      keys.map((key) => {
        const at = Number(key.slice('offer-'.length));
        return [key, offer(at, at % 10 === 0 ? '2.30' : '2.40')];
      }),
    ),
});
const { user, system } = process.cpuUsage(before);
const { new: added, changed, unchanged, faults } = summary;
console.log(
  `${COUNT} offers, ${(bytes.length / 1e6).toFixed(1)} MB: ${added} new, ${changed} changed, ${unchanged} unchanged, ${faults} faulty\n` +
    `${((user + system) / 1e6).toFixed(2)} s of processor; at most ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB in memory, the file itself among them`,
);
