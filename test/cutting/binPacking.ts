import { existsSync, readFileSync } from 'node:fs';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';

/** A published instance: pieces out of the fewest lengths of `stock` mm, of which `optimum` are proven to be the fewest. */
export interface Instance {
  name: string;
  stock: number;
  pieces: Pieces[];
  optimum: number;
}

/** Read from beside the project where they are: ESICUP collection, CC0. */
const DATA = new URL('../../../shared/data/bin-packing/', import.meta.url);
export const isAtHand = existsSync(DATA);

/** Best known in the file, but proven to be one fewer since: ../shared/data/bin-packing/README.md. */
const PROVEN_SINCE = new Map([
  ['u250_07', 103],
  ['u250_12', 105],
]);

/** Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996): uniform, 250 pieces. */
export function u250(): Instance[] {
  return falkenauer('falkenauer-u250.txt', 1);
}

/** The same, triplets: 60 pieces, three of which fill each length wholly. Given to a tenth. */
export function t60(): Instance[] {
  return falkenauer('falkenauer-t60.txt', 10);
}

function falkenauer(file: string, scale: number): Instance[] {
  const lines = linesOf(file);
  const instances: Instance[] = [];
  for (let at = 1; at < lines.length;) {
    const name = lines[at] ?? '';
    const [stock = 0, number = 0, best = 0] = numbersIn(lines[at + 1]);
    const pieces = lines.slice(at + 2, at + 2 + number).map((line) => Math.round(Number(line) * scale));
    const optimum = PROVEN_SINCE.get(name) ?? best;
    instances.push({ name, stock: Math.round(stock * scale), pieces: counted(pieces), optimum });
    at += 2 + number;
  }
  return instances;
}

/** Schwerin and Wäscher, The bin-packing problem, International Transactions in Operational Research 4 (1997): all 18. */
export function schwerin(): Instance[] {
  const lines = linesOf('schwerin-1.bpp');
  const instances: Instance[] = [];
  for (let at = 0; at < lines.length;) {
    const count = Number(lines[at + 1]);
    const pieces = lines.slice(at + 3, at + 3 + count).flatMap((line) => {
      const [mm = 0, times = 0] = numbersIn(line);
      return Array.from({ length: times }, () => mm);
    });
    instances.push({
      name: lines[at] ?? '',
      stock: Number(lines[at + 2]),
      pieces: counted(pieces),
      optimum: 18,
    });
    at += 3 + count;
  }
  return instances;
}

/** Single pieces as a list of pieces, longest first. */
export function counted(lengths: readonly number[]): Pieces[] {
  const counts = new Map<number, number>();
  for (const mm of lengths) counts.set(mm, (counts.get(mm) ?? 0) + 1);
  return [...counts].map(([mm, count]) => ({ mm, count })).sort((a, b) => b.mm - a.mm);
}

function linesOf(file: string): string[] {
  const text = readFileSync(new URL(file, DATA), 'utf8').trim();
  return text.split(/\r?\n/).map((line) => line.trim());
}

function numbersIn(line = ''): number[] {
  return line.trim().split(/\s+/).map(Number);
}
