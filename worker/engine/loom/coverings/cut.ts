import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { shrinkCut } from '../../trade/shrink.ts';
import { ceilToStep, D, plain } from '../../units/decimal.ts';
import { wayStep } from '../lengths/wireLength.ts';
import { braidCut } from './braidCut.ts';
import { finishedOf, inBrackets, type Sum } from './finished.ts';
import type { Laid } from './layers.ts';
import { tapeCut } from './tapeCut.ts';

export interface Cut {
  cutMm: number;
  steps: Step[];
}

/**
 * The length to which a covering is cut: its finished length, as stated or along its branches, with its overlaps; of braid
 * and heat-shrink so much more as they shorten, of tape over branches its spiral. Up to the cutting step. Undefined where
 * no length is known, or nothing is to be wound.
 *
 * @param leaving how many branches meet at each point
 */
export function coveringCut(
  laid: Laid,
  settings: SettingValues,
  leaving: ReadonlyMap<string, number>,
): Cut | undefined {
  const { covering, part, way } = laid;
  if (covering.lengthMm === undefined && !way) return undefined;
  const sum =
    part?.kind === 'tape' && way
      ? tapeCut(part, laid, way, settings, leaving)
      : part?.kind === 'sleeve' && part.sleeveType === 'braided'
        ? braidCut(part, laid, settings)
        : plainCut(laid);
  if (sum.mm.lte(0)) return undefined;
  const cutMm = ceilToStep(sum.mm.toDecimalPlaces(6), settings.cuttingStepMm);
  const by = settings.cuttingStepMm === 1 ? '' : `, in steps of ${settings.cuttingStepMm} mm`;
  const step: Step = {
    rule: 'covering',
    text: `${sum.terms} = ${plain(sum.mm.toDecimalPlaces(2))} → ${cutMm} mm${by}`,
    value: cutMm,
    unit: 'mm',
  };
  return { cutMm, steps: way ? [wayStep(way, false), step] : [step] };
}

function plainCut({ covering, part, way }: Laid): Sum {
  const { mm, terms } = finishedOf({ covering, way });
  const change =
    part?.kind === 'sleeve' && part.sleeveType === 'heatShrink' ? (part.lengthwiseChangePercent ?? 0) : 0;
  if (change >= 0) return { mm: new D(mm), terms };
  return { mm: shrinkCut(mm, change), terms: `${inBrackets(terms)}, ${change} % as it shrinks,` };
}
