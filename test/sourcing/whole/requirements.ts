import type { Job } from '../../../worker/engine/model/job.ts';
import type { Rules } from './rules.ts';

/** Pieces of a part: how many must be there by each order, the first first. */
export interface CountRequirement {
  kind: 'count';
  part: string;
  family: string | undefined;
  byWave: number[];
}

/** Cut lengths of a part, mm, each with the order by which it is needed, from 1. */
export interface LengthRequirement {
  kind: 'length';
  part: string;
  family: string | undefined;
  pieces: { mm: number; wave: number }[];
  /** Only the total counts. */
  joinable: boolean;
  /** All of it from one supplier. */
  oneSupplier: boolean;
  /** At most one length by the metre in each order. */
  oneMetre: boolean;
  /** Fixed lengths and a length by the metre may serve together. */
  together: boolean;
  /** Lengths on the shelf may stand beside those of the one supplier. */
  shelfBeside: boolean;
}

export type PartRequirement = CountRequirement | LengthRequirement;
type JobLoom = Job['looms'][number];

export const waveOf = (line: { wave?: number | undefined }, rules: Rules) =>
  rules.waves ? (line.wave ?? 1) : 1;

export function wavesOf(job: Job, rules: Rules): number {
  return Math.max(...job.request.looms.map((line) => waveOf(line, rules)));
}

/**
 * What the instances of this folder need: listed parts by count, wire tip to tip without any allowance, PVC sleeve and
 * tape of a stated length. Nothing else is read: no spares.
 */
export function requirementsOf(job: Job, rules: Rules): PartRequirement[] {
  const waves = wavesOf(job, rules);
  const counts = new Map<string, number[]>();
  const pieces = new Map<string, LengthRequirement['pieces']>();
  for (const line of job.request.looms) {
    const wave = waveOf(line, rules);
    const loom = loomOf(job, line.loom);
    for (const { part, quantity, supply } of loom.parts) {
      if (supply !== 'buy') continue;
      const byWave = counts.get(part) ?? Array<number>(waves).fill(0);
      counts.set(
        part,
        byWave.map((before, index) => before + (index + 1 >= wave ? quantity * line.quantity : 0)),
      );
    }
    for (const { part, mm } of lengthsOf(job, loom))
      pieces.set(part, [
        ...(pieces.get(part) ?? []),
        ...Array.from({ length: line.quantity }, () => ({ mm, wave })),
      ]);
  }
  return [
    ...[...counts].map(([part, byWave]) => countRequirement(job, part, byWave, rules)),
    ...[...pieces].map(([part, cut]) => lengthRequirement(job, part, cut, rules)),
  ];
}

function loomOf(job: Job, code: string): JobLoom {
  const loom = job.looms.find((candidate) => candidate.code === code);
  if (!loom) throw new Error(`no loom ${code}`);
  return loom;
}

/** Wires of a colour, by code: all of these jobs are of one cable type and size. */
function equalWires(job: Job, colour: string | undefined): string[] {
  return job.parts
    .flatMap((part) => (part.kind === 'wire' && part.colour.base === colour ? [part.code] : []))
    .sort();
}

/** The other parts that are the same as a part but for their code. */
export function equalTo(job: Job, code: string, rules: Rules): string[] {
  const part = job.parts.find((candidate) => candidate.code === code);
  if (part?.kind !== 'wire' || !rules.equalParts) return [];
  return equalWires(job, part.colour.base).filter((other) => other !== code);
}

/** Cut lengths by part, of one loom. */
function lengthsOf(job: Job, loom: JobLoom): { part: string; mm: number }[] {
  const step = job.club.settings.cuttingStepMm ?? 1;
  const cut = (part: string | undefined, mm: number | undefined) => {
    if (part === undefined || mm === undefined) throw new Error('a length without a part or a figure');
    return { part, mm: Math.ceil(mm / step) * step };
  };
  return [
    ...loom.wires.map((wire) => cut(equalWires(job, wire.colour.base)[0], wire.length?.mm)),
    ...loom.coverings.map((covering) => cut(covering.part, covering.lengthMm)),
  ];
}

export const familyOf = (job: Job, code: string) => job.parts.find((part) => part.code === code)?.family;

function countRequirement(job: Job, part: string, used: number[], rules: Rules): CountRequirement {
  const total = used.at(-1) ?? 0;
  const samples = rules.samples && used.length > 1 ? (job.request.samples ?? 0) : 0;
  return {
    kind: 'count',
    part,
    family: familyOf(job, part),
    byWave: used.map((many) => Math.max(many, Math.min(samples, total))),
  };
}

function lengthRequirement(
  job: Job,
  part: string,
  pieces: LengthRequirement['pieces'],
  rules: Rules,
): LengthRequirement {
  const kind = job.parts.find(({ code }) => code === part)?.kind;
  const joined = kind === 'tape' && rules.joinableTape;
  const setting = job.request.settings?.oneColourOneSupplier ?? job.club.settings.oneColourOneSupplier;
  return {
    kind: 'length',
    part,
    family: familyOf(job, part),
    pieces: [...pieces].sort((a, b) => b.mm - a.mm),
    joinable: joined || !rules.wholePieces,
    oneSupplier: kind === 'wire' && rules.oneColourOneSupplier && (setting ?? true),
    oneMetre: !joined && rules.oneMetreLength,
    together: joined || rules.hankWithMetre,
    shelfBeside: rules.oneColourOneSupplierExemptsStock,
  };
}
