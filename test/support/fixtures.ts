import { readFileSync } from 'node:fs';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Client } from './client.ts';

/** A job file of the examples, as it was written. */
export function exampleJob(name: 'three-wires' | 'trailer' | 'van' | 'build-or-buy'): JobInput {
  return JSON.parse(
    readFileSync(new URL(`../../examples/${name}/job.json`, import.meta.url), 'utf8'),
  ) as JobInput;
}

export const ring = {
  kind: 'terminal',
  code: 'ring-6',
  description: 'Ring for a 6 mm stud',
  terminalType: 'ring',
} as const;
export const redWire = {
  kind: 'wire',
  code: 'wire-red',
  description: 'Thin-wall 1 mm² red',
  cableType: 'thin-wall',
  size: { system: 'mm2', areaMm2: 1 },
  colour: { base: 'red' },
} as const;
export const shop = { code: 'shop', name: 'Corner Electrics', currency: 'GBP' } as const;
export const gbp = (amount: string) => ({ amount, currency: 'GBP' });
export const ringOffer = {
  form: 'pack',
  code: 'ring-pack',
  supplier: 'shop',
  part: 'ring-6',
  packCount: 10,
  packPrice: gbp('2.00'),
} as const;
export const redOffer = {
  form: 'metre',
  code: 'red-metre',
  supplier: 'shop',
  part: 'wire-red',
  pricePerMetre: gbp('0.50'),
} as const;

/** A loom of one red wire between two rings. */
export function oneWireLoom(code = 'loom') {
  const end = (point: string) => ({ point, join: 'crimp', terminal: { part: 'ring-6' } });
  return {
    code,
    name: 'One wire',
    points: [
      { id: 'A', kind: 'stud' },
      { id: 'B', kind: 'stud' },
    ],
    wires: [
      {
        id: 'W1',
        cableType: 'thin-wall',
        size: { system: 'mm2', areaMm2: 1 },
        colour: { base: 'red' },
        from: end('A'),
        to: end('B'),
        length: { mm: 500, basis: 'route' },
      },
    ],
  };
}

/** Puts a small catalogue and the one-wire loom into a club. */
export async function loadSmall(editor: Client): Promise<void> {
  await load(editor, {
    parts: [ring, redWire],
    suppliers: [shop],
    offers: [ringOffer, redOffer],
    fits: [],
    looms: [oneWireLoom()],
  });
}

/** Puts the contents of a job file into a club, by the API. */
export async function loadJobFile(editor: Client, job: JobInput): Promise<void> {
  await load(editor, {
    ...job,
    fits: job.fits ?? [],
    rates: job.rates ?? [],
    lanes: job.lanes ?? [],
    stock: job.stock ?? [],
    looms: job.looms.map(({ revision: _revision, ...loom }) => loom),
  });
}

/** In an order in which each names only what is there. */
const LISTS = ['parts', 'suppliers', 'offers', 'fits', 'rates', 'lanes', 'stock', 'looms'] as const;

async function load(
  editor: Client,
  lists: Partial<Record<(typeof LISTS)[number], readonly unknown[]>>,
): Promise<void> {
  for (const name of LISTS)
    for (const entry of lists[name] ?? []) {
      const got = await editor.post(`/v1/${name}`, entry);
      if (got.status !== 201) throw new Error(`${name}: ${got.status} ${got.text}`);
    }
}
