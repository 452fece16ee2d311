import { madeLooms } from '../loom/madeLooms.ts';
import { lettersOf } from '../model/colourLetters.ts';
import { colourWords, shadeWords } from '../model/colour.ts';
import type { Job } from '../model/job.ts';
import type { Part } from '../model/part.ts';
import type { CostLine, OrderLine, OrderList } from '../model/result.ts';
import type { Supplier } from '../model/supplier.ts';
import { postageFor } from '../sourcing/charges/deliveryBands.ts';
import type { Market } from '../job/market.ts';
import type { ChargeKind } from '../sourcing/problem/problem.ts';
import { chargedOf, paidShare, type SupplierShare } from '../sourcing/problem/pricing.ts';
import { exactFromMoney, minorToAmount, toMinor } from '../units/money.ts';
import { moreForMinimum, type Unused } from './forMinimum.ts';
import { marginsOf } from './margins.ts';
import { contactOf, insteadOf, orderHead } from './orderSheet.ts';
import type { Bought, Mix } from './purchases.ts';

/** One order list a parcel, by supplier and order: printed lines, what is added, and the rounding that makes them sum to the total. */
export function orderListsOf(
  mix: Mix,
  bought: readonly Bought[],
  { thresholdMarginPercent, ...unused }: Unused & { thresholdMarginPercent: number },
): OrderList[] {
  const { job, market, problem, shares } = mix;
  const { currency } = job.club;
  const told = { thresholdMarginPercent, currency, scale: problem.scale };
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const system = colourSystemOf(job);
  const several = problem.suppliers.some(({ wave }) => wave > 1);
  const head = { ...madeForOf(job), ...orderHead(job) };
  return shares.flatMap((share): OrderList[] => {
    const terms = problem.suppliers[share.supplier];
    const supplier = market.suppliers.get(terms?.code ?? '');
    if (!terms || terms.own || !supplier) return [];
    const own = bought.filter((line) => line.supplier === share.supplier);
    const goods = own.reduce((sum, { exact }) => sum + toMinor(exact, problem.scale), 0n);
    const charged = (kind: ChargeKind) => toMinor(chargedOf(share, kind), problem.scale);
    const added = ADDED.flatMap((kind) =>
      share.charges.some((charge) => charge.kind === kind) ? [[kind, charged(kind)] as const] : [],
    );
    const total = toMinor(paidShare(share), problem.scale);
    const [postage, handling] = [charged('postage'), charged('handling')];
    const lines = added.reduce((sum, [, amount]) => sum + amount, goods + postage + handling);
    const margins = marginsOf({ supplier, terms, share, lines: own }, told);
    const wave = several ? terms.wave : undefined;
    const forMinimum = moreForMinimum({ supplier, share, wave, lines: own }, unused);
    const theirs = theirsOf(market, supplier, share, own);
    return [
      {
        supplier: supplier.code,
        name: supplier.name,
        ...present('wave', wave),
        ...contactOf(supplier),
        ...head,
        lines: own.map((line, index) => ({
          ...orderLine(line, index + 1, parts, system, theirs?.currency),
          ...present('instead', insteadOf(mix, line, parts)),
        })),
        goods: money(goods),
        postage: money(postage),
        handling: money(handling),
        ...Object.fromEntries(added.map(([kind, amount]) => [kind, money(amount)])),
        ...(theirs ? { theirs } : {}),
        rounding: money(total - lines),
        total: money(total),
        ...(margins.length > 0 ? { margins } : {}),
        ...(forMinimum.length > 0 ? { moreForMinimum: forMinimum } : {}),
      },
    ];
  });
}

function present<K extends string, V>(name: K, value: V | undefined): Partial<Record<K, V>> {
  return value === undefined ? {} : ({ [name]: value } as Record<K, V>);
}

/** The looms for which all this is bought, where options make a difference to them. */
function madeForOf(job: Job): Pick<OrderList, 'madeFor'> {
  const made = madeLooms(job);
  if (made.every(({ options }) => options.length === 0)) return {};
  return {
    madeFor: made.map(({ loom: { name }, options, lines }) => ({
      name,
      quantity: lines.reduce((sum, { quantity }) => sum + quantity, 0),
      options,
    })),
  };
}

/** What an invoice or the customs add: a line each. */
const ADDED = ['tax', 'duty', 'importTax', 'clearance'] as const;

/** The list in the supplier's own currency, at prices as stated; none where that is the club's. */
function theirsOf(
  market: Market,
  supplier: Supplier,
  share: SupplierShare,
  own: readonly Bought[],
): OrderList['theirs'] {
  const { currency } = supplier;
  const rate = market.exchange.rateOf(currency);
  if (!rate) return undefined;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const customs = market.customsOf(supplier);
  const takenOff = customs.kind === 'abroad' && customs.takeOff ? customs.lane.sellerTaxPercent : 0;
  const handling = supplier.handling ? toMinor(exactFromMoney(supplier.handling)) : 0n;
  return {
    currency,
    rate: rate.rate,
    on: rate.on,
    goods: money(own.reduce((sum, { stated }) => sum + toMinor(stated), 0n)),
    postage: money(postageFor(supplier, share.goods, share.micrograms)),
    handling: money(handling),
    ...(takenOff > 0 ? { taxTakenOffPercent: takenOff } : {}),
  };
}

function orderLine(
  { purchase, offer, stated }: Bought,
  line: number,
  parts: ReadonlyMap<string, Part>,
  system: System,
  theirs: string | undefined,
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
    ...(offer.form === 'kit' && offer.description !== undefined
      ? { holds: contentsWords(purchase, parts) }
      : {}),
    ...(colour === undefined ? {} : { colour }),
    ...(letters === undefined ? {} : { colourLetters: letters }),
    bought: purchase.bought,
    oneContinuousLength: offer.form === 'metre',
    condition: offer.condition,
    ...(offer.seenOn === undefined ? {} : { seenOn: offer.seenOn }),
    cost: purchase.cost,
    ...(theirs === undefined
      ? {}
      : { theirCost: { amount: minorToAmount(toMinor(stated), theirs), currency: theirs } }),
  };
}

/** "Kit: 10 × Bullet 4.7 mm, 5 × Joiner" */
function kitWords({ bought, part }: Bought['purchase'], parts: ReadonlyMap<string, Part>): string {
  return bought.form === 'kit' ? `Kit: ${contentsWords({ bought }, parts)}` : part;
}

/** "10 × Bullet 4.7 mm, 5 × Joiner" */
function contentsWords(
  { bought }: Pick<Bought['purchase'], 'bought'>,
  parts: ReadonlyMap<string, Part>,
): string {
  const contents = bought.form === 'kit' ? bought.contents : [];
  return contents
    .map(({ part, quantity }) => `${quantity} × ${parts.get(part)?.description ?? part}`)
    .join(', ');
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

/** The same money as cost lines: goods of each parcel, its postage where the supplier charges any, and whatever else there is. */
export function costLinesOf(orderLists: readonly OrderList[], job: Job): CostLine[] {
  const charging = new Set(
    job.suppliers.filter(({ postage }) => postage !== undefined).map((supplier) => supplier.code),
  );
  return orderLists.flatMap(({ supplier, name, wave, ...list }) => {
    const from = wave === undefined ? name : `${name}, order ${wave}`;
    const line = (
      kind: CostLine['kind'],
      label: string,
      amount: CostLine['amount'] | undefined,
    ): CostLine[] =>
      amount === undefined
        ? []
        : [{ kind, supplier, ...(wave === undefined ? {} : { wave }), label, amount }];
    const some = (amount: CostLine['amount']) => (Number(amount.amount) === 0 ? undefined : amount);
    return [
      ...line('goods', `Goods from ${from}`, list.goods),
      ...line('postage', `Postage of ${from}`, charging.has(supplier) ? list.postage : undefined),
      ...line('handling', `Handling of ${from}`, some(list.handling)),
      ...line('tax', `Tax on goods and postage of ${from}`, list.tax),
      ...line('duty', `Duty on what comes from ${from}`, list.duty),
      ...line('importTax', `Import tax on what comes from ${from}`, list.importTax),
      ...line('clearance', `Clearance fee for the parcel from ${from}`, list.clearance),
      ...line('rounding', `Rounding, ${from}`, some(list.rounding)),
    ];
  });
}
