import type { Part } from '../../model/part.ts';
import type { LengthRequirement } from '../../model/result.ts';

export type LengthPart = Extract<Part, { kind: 'cable' | 'sleeve' | 'tape' }>;

/** The need for a part sold by length, with no pieces yet. */
export function emptyLengthNeed(part: LengthPart): LengthRequirement {
  return {
    id: `part:${part.code}`,
    kind: 'length',
    label: part.description,
    part: part.code,
    joinable: part.kind === 'tape',
    pieces: [],
    totalMm: 0,
    servedBy: [part.code],
    steps: [],
  };
}
