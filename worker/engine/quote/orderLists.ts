import { lettersOf } from '../model/colourLetters.ts';
import { colourWords, shadeWords } from '../model/colour.ts';
import type { Job } from '../model/job.ts';
import type { Part } from '../model/part.ts';
import type { CostLine, OrderLine, OrderList } from '../model/result.ts';
import type { Problem } from '../sourcing/problem.ts';
import type { SupplierShare } from '../sourcing/pricing.ts';
import { minorToAmount, toMinor } from '../units/money.ts';
import type { Bought } from './purchases.ts';

/** One order list a supplier, by code: printed lines, postage, and the rounding that makes them sum to the total. */
export function orderListsOf(
  job: Job,
  problem: Problem,
  shares: readonly SupplierShare[],
  bought: readonly Bought[],
): OrderList[] {
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const names = new Map(job.suppliers.map((supplier) => [supplier.code, supplier.name]));
  const system = colourSystemOf(job);
  return shares.map((share) => {
    const supplier = problem.suppliers[share.supplier]?.code ?? '';
    const own = bought.filter(({ offer }) => offer.supplier === supplier);
    const goods = own.reduce((sum, { exact }) => sum + toMinor(exact), 0n);
    const postage = toMinor(share.postage);
    const handling = toMinor(share.handling);
    const total = toMinor(share.goods + share.postage + share.handling);
    return {
      supplier,
      name: names.get(supplier) ?? supplier,
      lines: own.map((line, index) => orderLine(line, index + 1, parts, system)),
      goods: money(goods),
      postage: money(postage),
      handling: money(handling),
      rounding: money(total - goods - postage - handling),
      total: money(total),
    };
  });
}

function orderLine(
  { purchase, offer }: Bought,
  line: number,
  parts: ReadonlyMap<string, Part>,
  system: System,
): OrderLine {
  const part = offer.form === 'kit' ? undefined : parts.get(offer.part);
  const colour = part && colourOf(part);
  const letters = part?.kind === 'wire' ? lettersOf(part.colour, system) : undefined;
  return {
    line,
    requirement: purchase.requirement,
    offer: offer.code,
    ...(offer.supplierCode === undefined ? {} : { supplierCode: offer.supplierCode }),
    description: offer.description ?? part?.description ?? kitWords(purchase, parts),
    ...(colour === undefined ? {} : { colour }),
    ...(letters === undefined ? {} : { colourLetters: letters }),
    bought: purchase.bought,
    oneContinuousLength: offer.form === 'metre',
    condition: offer.condition,
    ...(offer.seenOn === undefined ? {} : { seenOn: offer.seenOn }),
    cost: purchase.cost,
  };
}

/** "Kit: 10 × Bullet 4.7 mm, 5 × Joiner" */
function kitWords({ bought, part }: Bought['purchase'], parts: ReadonlyMap<string, Part>): string {
  if (bought.form !== 'kit') return part;
  const contents = bought.contents.map(
    ({ part: code, quantity }) => `${quantity} × ${parts.get(code)?.description ?? code}`,
  );
  return `Kit: ${contents.join(', ')}`;
}

type System = Job['looms'][number]['colourSystem'];

/** The colour system that all looms of the quote share; words where they do not. */
function colourSystemOf(job: Job): System {
  const systems = new Set(job.looms.map(({ colourSystem }) => colourSystem));
  const [only = 'words'] = systems;
  return systems.size === 1 ? only : 'words';
}

function colourOf(part: Part): string | undefined {
  if (part.kind === 'wire') return colourWords(part.colour);
  return 'shade' in part && part.shade !== undefined ? shadeWords(part.shade) : undefined;
}

/** The same money as cost lines: goods of each supplier, its postage where it charges any, handling and rounding where there are any. */
export function costLinesOf(orderLists: readonly OrderList[], job: Job): CostLine[] {
  const charging = new Set(
    job.suppliers.filter(({ postage }) => postage !== undefined).map((supplier) => supplier.code),
  );
  return orderLists.flatMap(({ supplier, name, goods, postage, handling, rounding }) => {
    const lines: CostLine[] = [{ kind: 'goods', supplier, label: `Goods from ${name}`, amount: goods }];
    if (charging.has(supplier))
      lines.push({ kind: 'postage', supplier, label: `Postage of ${name}`, amount: postage });
    if (Number(handling.amount) !== 0)
      lines.push({ kind: 'handling', supplier, label: `Handling of ${name}`, amount: handling });
    if (Number(rounding.amount) !== 0)
      lines.push({ kind: 'rounding', supplier, label: `Rounding, ${name}`, amount: rounding });
    return lines;
  });
}
