import { readdirSync } from 'node:fs';
import { extname } from 'node:path';
import type { TradeValue } from './tradeValue.ts';

/** In a scratch copy they are JavaScript. */
const END = `.values${extname(import.meta.filename)}`;

/** The values of every file of values here, by the file's name: "wires". */
export async function valuesByFile(): Promise<Map<string, readonly TradeValue[]>> {
  const names = readdirSync(import.meta.dirname)
    .filter((name) => name.endsWith(END))
    .map((name) => name.slice(0, -END.length))
    .sort();
  const read = async (name: string) => {
    const { VALUES } = (await import(`./${name}.values.ts`)) as { VALUES: readonly TradeValue[] };
    return [name, VALUES] as const;
  };
  return new Map(await Promise.all(names.map(read)));
}
