import type { BenchPoint, BenchWire } from '../../engine/model/bench.ts';
import type { BenchProbe } from '../../engine/model/benchTests.ts';
import { shadeWords } from '../../engine/model/colour.ts';
import { naturally } from '../../engine/model/naturally.ts';
import type { Result } from '../../engine/model/result.ts';
import { sizeLabel } from '../../engine/model/size.ts';

/** What the sheets for the bench need of a result. */
export type BenchResult = Pick<Result, 'bench' | 'looms' | 'requirements' | 'cautions'>;

/** A line on which a reading is written. */
export const BLANK = '______';

const KINDS: Record<BenchPoint['kind'], string> = {
  connector: 'connector',
  device: 'device',
  stud: 'stud',
  joiner: 'joiner',
  joint: 'joint',
  flyingLead: 'flying lead',
  breakout: 'breakout',
};

/** "left, left rear lamp (device)" */
export function pointWords({ point, label, kind }: BenchPoint): string {
  return `${point}${label === undefined ? '' : `, ${label}`} (${KINDS[kind]})`;
}

/** "plug 1" */
export function placeWords({ point, way }: { point: string; way?: string | undefined }): string {
  return way === undefined ? point : `${point} ${way}`;
}

/** "left 54 (W7, W8)" */
export function probeWords(probe: BenchProbe): string {
  return `${placeWords(probe)} (${wiresAt(probe).join(', ')})`;
}

export function wiresAt({ ends }: BenchProbe): string[] {
  return [...new Set(ends.map(({ wire }) => wire))].sort(naturally);
}

/** "green/white 1 mm²" */
export function wireWords({ colour: { base, tracer }, size }: BenchWire): string {
  const shades = [base, ...(tracer === undefined ? [] : [tracer])].map(shadeWords);
  return `${shades.join('/')} ${sizeLabel(size)}`;
}

/** "1, 2 and 4" */
export function listed(words: readonly (string | number)[]): string {
  const last = words.at(-1);
  return words.length < 2 ? `${last ?? ''}` : `${words.slice(0, -1).join(', ')} and ${last ?? ''}`;
}

/** Words for the parts of the bench. */
export interface PartWords {
  /** What is bought for a part that a loom names: it, or what stands in for it. */
  bought: (part: string) => string;
  /** "braid-8, Braided sleeve, black" */
  described: (part: string) => string;
  kind: (part: string) => string | undefined;
}

/** Of a part that another stands in for, the code and the words are of that one. */
export function partWords({ requirements, bench }: BenchResult): PartWords {
  const inPlace = new Map(
    requirements.flatMap((need) =>
      need.kind !== 'wire' && need.boughtAs ? [[need.part, need.boughtAs] as const] : [],
    ),
  );
  const parts = new Map((bench?.parts ?? []).map((part) => [part.part, part]));
  return {
    bought: (part) =>
      inPlace
        .get(part)
        ?.map((each) => each.part)
        .join(' or ') ?? part,
    described: (part) => {
      const others = inPlace.get(part);
      if (others) return others.map((each) => `${each.part}, ${each.label}`).join('; or ');
      const words = parts.get(part)?.description;
      return words === undefined || words === part ? part : `${part}, ${words}`;
    },
    kind: (part) => parts.get(part)?.kind,
  };
}
