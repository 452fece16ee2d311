import { byCode } from '../../model/code.ts';
import type { CoveringSort } from '../../job/candidates.ts';
import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import { boreNeededMm } from '../../trade/sleeving.ts';
import type { Known } from './beneath.ts';
import { fitOf, mm, type Sleeve } from './fit.ts';

/** A part chosen, with the reason; or why none was. */
export type Choice = { part: Part; why: string } | { part?: undefined; why: string };

/**
 * The smallest sleeve that fits, of those that some offer sells, else of the catalogue; of equals the first by code. A tape
 * is taken where there is one alone.
 *
 * @param beneath what it lies over: "bundle 7.3 mm, of 9 wires"; in words alone where that is not known
 */
export function choose(
  covering: CoveringSort,
  candidates: readonly Part[],
  isOnSale: (part: string) => boolean,
  beneath: Known | { words: string },
  settings: SettingValues,
): Choice {
  const what = `${covering.shade === undefined ? '' : `${covering.shade} `}${KIND_WORDS[covering.kind]}`;
  if (covering.kind === 'other') return { why: 'a covering of this kind cannot be chosen' };
  if (candidates.length === 0) return { why: `the catalogue has no ${what}` };
  const sold = candidates.filter(({ code }) => isOnSale(code));
  if (covering.kind === 'tape') return onlyOne(sold.length > 0 ? sold : candidates, what);
  const { words } = beneath;
  if (!('thickestMm' in beneath)) return { why: words };
  const sleeves = candidates.filter((part) => part.kind === 'sleeve').sort(bySize);
  // What the checks find too tight or too loose is not bought: who will have it all the same names it.
  const fitting = sleeves.filter((sleeve) => fitOf(sleeve, beneath, settings) === 'fits');
  const part = fitting.find(({ code }) => isOnSale(code)) ?? fitting[0];
  if (!part) return { why: `${words}; ${noneFits(sleeves, what)}${looseOne(sleeves, beneath, settings)}` };
  const smaller = sleeves.slice(0, sleeves.indexOf(part)).at(-1);
  const next = !smaller
    ? ''
    : fitting.includes(smaller)
      ? `; ${smaller.code} is smaller, but no offer sells it`
      : `; the next smaller, ${smaller.code}, ${holds(smaller)}${tooNarrow(smaller, beneath, settings)}`;
  return { part, why: `${words}; ${part.code} ${holds(part)}${next}` };
}

const KIND_WORDS: Record<CoveringSort['kind'], string> = {
  braided: 'braided sleeve',
  pvc: 'PVC sleeving',
  heatShrink: 'heat-shrink',
  tape: 'tape',
  conduit: 'conduit',
  other: 'covering',
};

function onlyOne(tapes: readonly Part[], what: string): Choice {
  const [part, ...others] = [...tapes].sort((a, b) => byCode(a.code, b.code));
  return part && others.length === 0
    ? { part, why: `the only ${what}` }
    : {
        why: `the catalogue has ${tapes.length} of ${what}: ${tapes
          .slice(0, 5)
          .map(({ code }) => code)
          .join(', ')}`,
      };
}

/** ", and 8.41 mm are needed" of a stiff sleeve: its bore alone does not tell why it is passed over. */
function tooNarrow(sleeve: Sleeve, { thickestMm, threadedMm }: Known, settings: SettingValues): string {
  if (!isStiff(sleeve)) return '';
  return `, and ${mm(boreNeededMm(thickestMm, threadedMm, settings))} are needed to thread it`;
}

const isStiff = ({ sleeveType }: Sleeve) => sleeveType === 'pvc' || sleeveType === 'conduit';

/** By what a sleeve holds at the most, then at the least, then by code; what states nothing last. */
function bySize(a: Sleeve, b: Sleeve): number {
  return most(a) - most(b) || least(a) - least(b) || byCode(a.code, b.code);
}

const UNSTATED = 1e6;
const most = ({ sleeveType, holdsMaxMm, boreMm }: Sleeve) =>
  (sleeveType === 'braided' ? holdsMaxMm : boreMm) ?? UNSTATED;
const least = ({ sleeveType, holdsMinMm, recoveredBoreMm }: Sleeve) =>
  (sleeveType === 'braided' ? holdsMinMm : recoveredBoreMm) ?? 0;

function noneFits(sleeves: readonly Sleeve[], what: string): string {
  const list = sleeves.slice(0, 5).map((sleeve) => `${sleeve.code} ${holds(sleeve)}`);
  return `no ${what} of the catalogue fits: ${list.join(', ')}${sleeves.length > 5 ? ' and others' : ''}`;
}

/** Of stiff sleeves the smallest that can be threaded, with the figure by which it is too loose. */
function looseOne(sleeves: readonly Sleeve[], beneath: Known, settings: SettingValues): string {
  for (const sleeve of sleeves.filter(isStiff)) {
    const fit = fitOf(sleeve, beneath, settings);
    if (typeof fit === 'object' && fit.how === 'loose')
      return `; ${sleeve.code} can be threaded, but is loose: ${fit.found}, and ${fit.limit}`;
  }
  return '';
}

/** "holds 6 to 12 mm", "has a bore of 8 mm", "goes over less than 12 mm and grips more than 4 mm" */
function holds({ sleeveType, holdsMinMm, holdsMaxMm, boreMm, recoveredBoreMm }: Sleeve): string {
  if (sleeveType === 'braided') {
    if (holdsMaxMm === undefined) return 'does not state the bundle that it holds';
    return holdsMinMm === undefined
      ? `holds at most ${mm(holdsMaxMm)}`
      : `holds ${holdsMinMm} to ${mm(holdsMaxMm)}`;
  }
  if (boreMm === undefined) return 'does not state its bore';
  if (sleeveType !== 'heatShrink') return `has a bore of ${mm(boreMm)}`;
  return recoveredBoreMm === undefined
    ? `goes over less than ${mm(boreMm)} and does not state its bore after shrinking`
    : `goes over less than ${mm(boreMm)} and grips more than ${mm(recoveredBoreMm)}`;
}
