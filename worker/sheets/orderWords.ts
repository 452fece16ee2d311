import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { conditionWords } from './amounts.ts';
import { boughtFor } from './options.ts';

/** An order list with the day of its quote: what is sent to a supplier. */
export interface OrderSheet {
  list: OrderList;
  asOf: string;
}

/** "Mossgate Wiring, order 2", where there are several. */
export function orderTitle({ name, wave }: OrderList): string {
  return wave === undefined ? name : `${name}, order ${wave}`;
}

/** How to reach the supplier, an entry each. */
export function contactWords({ contact = {} }: OrderList): string[] {
  const { email, phone, website } = contact;
  return [email, phone, website].filter((entry) => entry !== undefined);
}

/** Who orders, an entry each. */
export function buyerWords({ buyer = {} }: OrderList): string[] {
  const { name, address, phone, email } = buyer;
  return [name, address, phone, email].filter((entry) => entry !== undefined);
}

/** What the order is known by, and what it is for, a sentence each. */
export function aboutWords(list: OrderList): string[] {
  const { reference, vehicles = [] } = list;
  return [
    ...(reference === undefined ? [] : [`Reference: ${reference}`]),
    ...(vehicles.length === 0 ? [] : [`For: ${vehicles.join('; ')}`]),
    ...boughtFor(list),
  ];
}

/** From when the prices are, where it is known. */
export function seen({ lines }: OrderList): string[] {
  const days = lines.flatMap(({ seenOn }) => seenOn ?? []).sort();
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return [];
  return [first === last ? `Prices seen on ${first}` : `Prices seen from ${first} to ${last}`];
}

/** Whether anything may be sent in place of a line; said once for all lines that say nothing else. */
export function substitution({ lines }: OrderList): string {
  return lines.some(({ instead }) => instead !== undefined)
    ? 'Please do not substitute, except where a line says what may be sent instead.'
    : 'Please do not substitute.';
}

/** What may be sent in place of a line: "Thin-wall cable, red (TW-R2)"; empty where nothing may. */
export function insteadNames({ instead = [] }: OrderLine): string {
  return instead
    .map(({ supplierCode, description }) =>
      supplierCode === undefined ? description : `${description} (${supplierCode})`,
    )
    .join(', or ');
}

/** The same as a sentence of its own, where there is one. */
export function insteadWords(line: OrderLine): string[] {
  const names = insteadNames(line);
  return names === '' ? [] : [`May be sent instead: ${names}`];
}

/** The description, with what one kit holds. */
export function withContents({ description, holds }: Pick<OrderLine, 'description' | 'holds'>): string {
  return holds === undefined ? description : `${description}, holds ${holds}`;
}

/** What a line is, in one: with what a kit holds, its colour, and a condition other than new. */
export function described(line: OrderLine): string {
  const state = line.condition === 'new' ? '' : ` (${conditionWords(line.condition)})`;
  return [withContents(line), ...unsaidColour(line)].join(', ') + state;
}

/** The colour in words, where the description does not say the very same: a colour stands once. */
function unsaidColour({ colour, description }: OrderLine): string[] {
  if (colour === undefined || colour === '') return [];
  const exactly = new RegExp(
    `(?<!\\b(?:light|dark|with) |[/-])\\b${escapedForRegExp(colour)}\\b(?! with |[/-])`,
    'i',
  );
  return exactly.test(description) ? [] : [colour];
}

function escapedForRegExp(text: string): string {
  return text.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
}
