import { byCode } from '../model/code.ts';
import type { LeftOut } from '../model/result.ts';
import type { Supply } from '../model/supply.ts';

type NotBought = Exclude<Supply, 'buy'> | 'otherLoom';

/** Gathers what is needed but not bought, a line for each thing and each place that it comes from. */
export class LeftOutList {
  readonly #lines = new Map<string, LeftOut>();

  part(
    part: { code: string; label: string },
    { supply, bySetting }: { supply: NotBought; bySetting: boolean },
    quantity: number,
    at: LeftOut['where'][0],
  ) {
    const line = this.#line(`part:${part.code}:${supply}${bySetting ? ':setting' : ''}`, {
      label: part.label,
      part: part.code,
      supply,
      ...(bySetting ? { bySetting: 'deviceSupply' } : {}),
    });
    line.quantity = (line.quantity ?? 0) + quantity;
    line.where.push(at);
  }

  /** A wire whose length is not known stands on a line of its own, without metres. */
  wire(
    spec: { key: string; label: string },
    supply: NotBought,
    mm: number | undefined,
    at: LeftOut['where'][0],
  ) {
    const known = mm === undefined ? 'unknown' : 'known';
    const line = this.#line(`wire:${spec.key}:${supply}:${known}`, { label: spec.label, supply });
    if (mm !== undefined) line.totalMm = (line.totalMm ?? 0) + mm;
    line.where.push(at);
  }

  /** A cable, sleeve or tape. */
  length(
    part: { code: string; label: string },
    supply: NotBought,
    mm: number | undefined,
    at: LeftOut['where'][0],
  ) {
    const known = mm === undefined ? 'unknown' : 'known';
    const line = this.#line(`part:${part.code}:${supply}:${known}`, {
      label: part.label,
      part: part.code,
      supply,
    });
    if (mm !== undefined) line.totalMm = (line.totalMm ?? 0) + mm;
    line.where.push(at);
  }

  #line(key: string, start: Omit<LeftOut, 'where'>): LeftOut {
    const line = this.#lines.get(key) ?? { ...start, where: [] };
    this.#lines.set(key, line);
    return line;
  }

  /** Wires first, then parts, each by name. */
  lines(): LeftOut[] {
    const rank = (key: string) => (key.startsWith('wire:') ? 0 : 1);
    return [...this.#lines].sort(([a], [b]) => rank(a) - rank(b) || byCode(a, b)).map(([, line]) => line);
  }
}
