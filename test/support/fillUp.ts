import type { Client, Got } from './client.ts';
import { ring } from './fixtures.ts';

export interface Filled {
  written: number;
  /** The answer to the last part that was sent. */
  refused: Got;
}

/** Adds parts, of some kilobytes each, until one is refused or so many are there. */
export async function fillUp(editor: Pick<Client, 'post'>, most = 5_000): Promise<Filled> {
  const note = Array.from({ length: 180 }, (_, n) => (n * 7919 + 13).toString(36)).join(' ');
  for (let written = 0; ; written++) {
    const code = `fill-${most}-${written}`;
    const refused = await editor.post('/v1/parts', { ...ring, code, note: `${code} ${note}` });
    if (refused.status !== 201 || written === most - 1) return { written, refused };
  }
}

export function isNotFull({ refused }: Filled): boolean {
  return refused.status === 201;
}
