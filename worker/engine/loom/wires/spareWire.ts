import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { tradeAreaMm2 } from '../../trade/wireSizes.ts';
import { ceilWhole, D, percentOf, plain } from '../../units/decimal.ts';
import type { WireSpec } from '../../job/wireSpec.ts';
import { inPieces, piecesText, type Cuts } from '../lengths/inPieces.ts';

type Settings = Pick<
  SettingValues,
  | 'spareWirePercent'
  | 'spareWireMinimumMm'
  | 'spareWireMostMm'
  | 'spareWirePieces'
  | 'spareWireUpToMm2'
  | 'spareWireBy'
>;

interface Piece extends Cuts {
  settings: Settings;
  /** Cut to what its work asks for: a resistor wire, a fusible link. */
  functional?: boolean;
}

/** How much spare wire settings ask for of one cable type and size. */
interface Rule {
  percent: number;
  minimumMm: number;
  mostMm: number;
  pieces: number;
}

/**
 * Spare wire of one requirement: a percentage of its metres (each loom's at its own, rounded up once), between a least and
 * a most; or so many times its longest piece, where that is more. None above a size, none of functional lengths. Of several
 * looms' settings the most cautious hold. It is one piece that comes whole, so that a wire can be made again of it; no
 * longer than the longest wire, so that it comes out of any length out of which the wires come.
 */
export function spareWire(
  { cableType, size }: Pick<WireSpec, 'cableType' | 'size'>,
  pieces: readonly Piece[],
): { spares: Cuts[]; step: Step } | undefined {
  const areaMm2 = tradeAreaMm2(size);
  const asked = pieces.map((piece) => ({ ...piece, rule: ruleFor(piece.settings, cableType, areaMm2) }));
  const wanted = asked.filter(({ rule }) => rule.percent > 0 || rule.pieces > 0);
  if (wanted.length === 0) return undefined;
  const drawn = wanted.filter(({ functional }) => functional !== true);
  if (drawn.length === 0) return none('no spare for a wire whose length is set by its function');
  const spared = drawn.filter(
    ({ settings }) => areaMm2 === undefined || areaMm2 <= settings.spareWireUpToMm2,
  );
  if (spared.length === 0) {
    const limit = greatest(drawn.map(({ settings }) => settings.spareWireUpToMm2));
    return none(`no spare above ${limit} mm²: this wire has ${areaMm2 ?? 0} mm²`);
  }
  const share = shareOf(spared);
  const longestMm = greatest(spared.map(({ cutMm }) => cutMm));
  const times = greatest(spared.map(({ rule }) => rule.pieces));
  const spareMm = Math.max(share?.mm ?? 0, times * longestMm);
  const spares = inPieces(spareMm, longestMm);
  const terms = [
    ...(share ? [share.terms] : []),
    ...(times > 0 ? [`at least ${times} × the longest ${longestMm}`] : []),
  ];
  const unknown = areaMm2 === undefined ? ' (its mm² are not known, so the size limit is not applied)' : '';
  const text = `${terms.join(', ')}: ${spareMm} mm spare ${piecesText(spares)}${unknown}`;
  return { spares, step: { rule: 'spareWire', text, value: spareMm, unit: 'mm' } };
}

function none(text: string): { spares: Cuts[]; step: Step } {
  return { spares: [], step: { rule: 'spareWire', text, value: 0, unit: 'mm' } };
}

/** Each figure by the first rule for the cable type and size that states it; else by the settings. */
function ruleFor(settings: Settings, cableType: string, areaMm2: number | undefined): Rule {
  const rules = settings.spareWireBy.filter(
    (rule) =>
      (rule.cableType === undefined || rule.cableType === cableType) &&
      (rule.overMm2 === undefined || (areaMm2 !== undefined && areaMm2 > rule.overMm2)),
  );
  const first = (what: keyof Rule) => rules.find((rule) => rule[what] !== undefined)?.[what];
  return {
    percent: first('percent') ?? settings.spareWirePercent,
    minimumMm: first('minimumMm') ?? settings.spareWireMinimumMm,
    mostMm: first('mostMm') ?? settings.spareWireMostMm,
    pieces: first('pieces') ?? settings.spareWirePieces,
  };
}

/** Of a list of any length, as spreading it over arguments could not hold. */
const greatest = (values: readonly number[]) => values.reduce((most, value) => Math.max(most, value), 0);

/** "10 % of 5265 = 526.5, at least 300, at most 1000"; nothing where no percentage is asked for. */
function shareOf(pieces: readonly (Cuts & { rule: Rule })[]): { mm: number; terms: string } | undefined {
  const shared = pieces.filter(({ rule }) => rule.percent > 0);
  if (shared.length === 0) return undefined;
  const metresAt = new Map<number, number>();
  for (const { cutMm, count, rule } of shared)
    metresAt.set(rule.percent, (metresAt.get(rule.percent) ?? 0) + cutMm * count);
  const shares = [...metresAt].sort(([a], [b]) => a - b);
  const sum = shares.reduce((total, [percent, mm]) => total.add(percentOf(mm, percent)), new D(0));
  const least = greatest(shared.map(({ rule }) => rule.minimumMm));
  const most = greatest(shared.map(({ rule }) => rule.mostMm));
  const terms = shares.map(([percent, mm]) => `${percent} % of ${mm}`).join(' + ');
  return {
    mm: Math.min(most, Math.max(ceilWhole(sum), least)),
    terms: `${terms} = ${plain(sum)}, at least ${least}, at most ${most}`,
  };
}
