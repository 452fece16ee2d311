import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import { overCloseMm, overStiffMm } from '../../trade/sleeving.ts';
import { overTapeMm } from '../../trade/tape.ts';

/** Over a covering, mm: what lies over it is chosen by this. */
export function outsideMm(part: Part, innerMm: number, settings: SettingValues): number {
  if (part.kind === 'tape') return overTapeMm(innerMm, settings.tapeOverlapPercent, part.thicknessMm);
  if (part.kind !== 'sleeve') return innerMm;
  const { sleeveType, boreMm, wallMm } = part;
  const stiff = sleeveType === 'pvc' || sleeveType === 'conduit' || sleeveType === 'spiral';
  return stiff ? overStiffMm(innerMm, boreMm, wallMm) : overCloseMm(innerMm, wallMm);
}
