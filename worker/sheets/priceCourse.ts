import type { CoursePrice, PriceCourse } from '../engine/model/priceCourse.ts';
import { csvPieces } from './csvPieces.ts';

const HEAD = [
  'offer',
  'supplier',
  'supplier name',
  'from',
  'until',
  'last seen',
  'day stated',
  'removed',
  'for one',
  'price',
  'lowest price',
  'currency',
  'price here',
  'currency here',
  'rate',
  'rate of',
  'put in by',
  'put in at',
];

/** The price course of a part as CSV: a row for each price, and for each day on which a rate changed what it is worth here. */
export function priceCourseCsv(course: PriceCourse): string {
  return [...csvPieces([HEAD, ...rowsOf(course)])].join('');
}

function rowsOf({ offers, currency: here }: PriceCourse): string[][] {
  return offers.flatMap(({ offer, supplier, supplierName, currency, prices }) =>
    prices.flatMap((price) =>
      piecesOf(price).map(({ from, until, inClub }) => [
        offer,
        supplier,
        supplierName,
        from,
        until ?? '',
        price.lastSeen,
        price.seen ? 'yes' : 'no',
        price.removed ? 'yes' : 'no',
        price.unit,
        price.price.amount,
        price.lowest?.amount ?? '',
        currency,
        inClub?.price.amount ?? '',
        inClub ? here : '',
        inClub?.rate ?? '',
        inClub?.rateOn ?? '',
        price.putInBy ?? '',
        price.putInAt ?? '',
      ]),
    ),
  );
}

interface Piece {
  from: string;
  until: string | undefined;
  inClub: CoursePrice['inClub'][number] | undefined;
}

/** A price parted at the days on which its worth in the club's currency changed; first what has no rate. */
function piecesOf({ from, until, inClub }: CoursePrice): Piece[] {
  const [first] = inClub;
  const before: Piece[] =
    first?.from === from ? [] : [{ from, until: first?.from ?? until, inClub: undefined }];
  return [
    ...before,
    ...inClub.map((each, at) => ({ from: each.from, until: inClub[at + 1]?.from ?? until, inClub: each })),
  ];
}
