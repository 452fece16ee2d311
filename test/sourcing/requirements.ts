import { readJob } from '../../worker/engine/model/upgrade.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { DEFAULT_SETTINGS, type SettingName } from '../../worker/engine/model/settings.ts';

/** What a job needs, worked out apart from the engine, from the rules of arithmetic alone. */
export type Requirement =
  | { kind: 'wire'; cableType: string; size: string; colour: string; totalMm: number; parts: string[] }
  | { kind: 'count'; part: string; used: number; quantity: number };

type JobLoom = Job['looms'][number];
type JobWire = JobLoom['wires'][number];
type WireEnd = JobWire['from'];

export function parsedJob(document: unknown): Job {
  const read = readJob(document);
  if (!read.success) throw new Error(`not a job: ${read.error.message}`);
  return read.data;
}

function setting(job: Job, loom: JobLoom | undefined, name: SettingName): number {
  const layers = [job.request.settings, loom?.settings, job.club.settings, DEFAULT_SETTINGS];
  const value = layers.map((layer) => layer?.[name]).find((stated) => stated !== undefined);
  return typeof value === 'number' ? value : 0;
}

/** A percentage has at most 4 decimals, so a millionth of the whole is the finest share. */
const millionths = (percent: number) => BigInt(Math.round(percent * 10_000));
const MILLION = 1_000_000n;

const ceilDiv = (a: bigint, b: bigint) => (a + b - 1n) / b;

/** The length that is cut for one wire, mm. */
export function cutMm(job: Job, loom: JobLoom, wire: JobWire): number {
  if (!wire.length) throw new Error(`wire ${wire.id} states no length`);
  const ends = [wire.from, wire.to];
  const redo = ends.length * setting(job, loom, 'redoMm');
  const atEnd = (end: WireEnd) =>
    (end.tailMm ?? setting(job, loom, 'tailMm')) + (end.stripMm ?? setting(job, loom, 'stripMm'));
  const tailsAndStrips = wire.length.basis === 'tipToTip' ? 0 : atEnd(wire.from) + atEnd(wire.to);
  const inMillionths =
    BigInt(wire.length.mm) * (MILLION + millionths(setting(job, loom, 'slackPercent'))) +
    BigInt(tailsAndStrips + redo) * MILLION;
  const step = BigInt(setting(job, loom, 'cuttingStepMm'));
  return Number(ceilDiv(inMillionths, step * MILLION) * step);
}

function countsOf(loom: JobLoom): Map<string, number> {
  const counts = new Map<string, number>();
  const add = (use: { part?: string | undefined; supply: string } | undefined, times = 1) => {
    if (use?.part !== undefined && use.supply === 'buy')
      counts.set(use.part, (counts.get(use.part) ?? 0) + times);
  };
  const shared = new Set<string>();
  for (const wire of loom.wires)
    for (const end of [wire.from, wire.to]) {
      const word = end.sharesTerminal === undefined ? undefined : `${end.point} ${end.sharesTerminal}`;
      if (end.terminal && (word === undefined || !shared.has(word))) {
        add(end.terminal);
        if (word !== undefined) shared.add(word);
      }
      for (const use of [end.seal, end.cover, end.label]) add(use);
    }
  for (const point of loom.points) add({ part: point.part, supply: point.supply ?? 'buy' });
  for (const item of [...loom.fittings, ...loom.parts]) add(item, item.quantity);
  return counts;
}

/** Spares with which at least `used` crimps come out good as surely as asked: the binomial's terms added one by one. */
function byChance(job: Job, loom: JobLoom | undefined, used: number): number {
  const fails = setting(job, loom, 'crimpFailurePercent') / 100;
  const sure = setting(job, loom, 'spareConfidencePercent') / 100;
  for (let spares = 0; ; spares += 1) {
    let term = (1 - fails) ** (used + spares);
    let sum = term;
    for (let failed = 1; failed <= spares; failed += 1) {
      term *= ((used + spares - failed + 1) / failed) * (fails / (1 - fails));
      sum += term;
    }
    if (sum >= sure) return spares;
  }
}

/** Everything that is to be bought for the request: wire by cable type, size and colour; counts by part, with spares. */
export function requirementsOf(job: Job): Requirement[] {
  const wires = new Map<string, Extract<Requirement, { kind: 'wire' }>>();
  const used = new Map<string, number>();
  const key = (
    cableType: string,
    size: unknown,
    colour: { base?: string | undefined; tracer?: string | undefined },
  ) => JSON.stringify([cableType, size, colour.base ?? '', colour.tracer ?? '']);
  const longest = new Map<string, number>();
  for (const line of job.request.looms) {
    const loom = job.looms.find((candidate) => candidate.code === line.loom);
    if (!loom) throw new Error(`no loom ${line.loom}`);
    for (const wire of loom.wires) {
      if (wire.supply !== 'buy') continue;
      const name = key(wire.cableType, wire.size, wire.colour);
      const requirement = wires.get(name) ?? {
        kind: 'wire' as const,
        cableType: wire.cableType,
        size: JSON.stringify(wire.size),
        colour: (wire.colour.base ?? '') + (wire.colour.tracer ?? ''),
        totalMm: 0,
        parts: job.parts.flatMap((part) =>
          part.kind === 'wire' && key(part.cableType, part.size, part.colour) === name ? [part.code] : [],
        ),
      };
      const each = cutMm(job, loom, wire);
      requirement.totalMm += line.quantity * each;
      longest.set(name, Math.max(longest.get(name) ?? 0, each));
      wires.set(name, requirement);
    }
    for (const [part, count] of countsOf(loom)) used.set(part, (used.get(part) ?? 0) + line.quantity * count);
  }
  const loom = job.looms.length === 1 ? job.looms[0] : undefined;
  for (const [name, requirement] of wires) {
    // No wire of these jobs is above 6 mm², or cut by its function.
    const percent = millionths(setting(job, loom, 'spareWirePercent'));
    const byPercent = Number(ceilDiv(BigInt(requirement.totalMm) * percent, MILLION));
    const [least, most] = [setting(job, loom, 'spareWireMinimumMm'), setting(job, loom, 'spareWireMostMm')];
    const bounded = percent > 0n ? Math.min(Math.max(byPercent, least), most) : 0;
    const times = setting(job, loom, 'spareWirePieces') * (longest.get(name) ?? 0);
    requirement.totalMm += Math.max(bounded, times);
  }
  const counts = [...used].map(([part, count]) => {
    const kind = job.parts.find((candidate) => candidate.code === part)?.kind;
    // A cover has spares with its terminal; those of these jobs stand at wires' ends alone, and none is soldered.
    const spared = kind === 'terminal' || kind === 'seal' || kind === 'cover';
    const byPercent = Number(
      ceilDiv(BigInt(count) * millionths(setting(job, loom, 'sparePercent')), MILLION),
    );
    const spares = spared
      ? Math.max(byPercent, byChance(job, loom, count), setting(job, loom, 'spareMinimum'))
      : 0;
    return { kind: 'count' as const, part, used: count, quantity: count + spares };
  });
  return [...wires.values(), ...counts];
}
