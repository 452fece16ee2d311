import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import { bundles } from '../../trade/bundle.ts';
import { passesOver, SHRINK_SOURCE } from '../../trade/shrink.ts';
import { toNanometre } from '../../units/nanometre.ts';
import type { CheckContext } from './context.ts';
import {
  pathOf,
  subjectOf,
  whereOf,
  wiresIn,
  type EndAt,
  type PointAt,
  type Termination,
} from './terminations.ts';
import { mmText } from './words.ts';

/** What lies beneath a cover: the wires of one terminal, as thick as is known, mm. */
interface Beneath {
  mm: number;
  words: string;
  source: string;
}

/** Boots and sleeves over wire ends that do not go over the wires there: heat-shrink must be wider, the rest no narrower. */
export function checkCovers({ parts, figures }: CheckContext, points: readonly PointAt[]): Finding[] {
  const bundleOf = bundles();
  const beneathOf = (termination: Termination): Beneath | undefined => {
    const known = termination.ends.flatMap(({ wire }) => figures.of(wire).outsideDiameterMm ?? []);
    const around = bundleOf(known.map(({ value }) => value));
    if (!around) return undefined;
    const mm = toNanometre(around.packedMm);
    const words =
      known.length === 1
        ? `a wire of up to ${mmText(mm)}`
        : `wires ${wiresIn(termination)}, ${mmText(mm)} together`;
    return { mm, words, source: [...new Set(known.map(({ source }) => source))].join('; ') };
  };
  return points.flatMap(({ terminations }) =>
    terminations.flatMap((termination) => {
      // Stated at several ends that share the terminal it is one cover, told at the first of them.
      const named = new Map<string, EndAt>();
      for (const each of termination.ends) {
        const code = each.end.cover?.part;
        if (code !== undefined && !named.has(code)) named.set(code, each);
      }
      return [...named].flatMap(([code, each]): Finding[] => {
        const part = parts.get(code);
        const bore = part && boreOf(part);
        const beneath = bore && beneathOf(termination);
        if (!part || !bore || !beneath || goesOver(bore, beneath.mm)) return [];
        return [
          {
            code: 'cover-too-small',
            severity: 'warning',
            at: pointer([...pathOf(each), 'cover', 'part']),
            where: `${whereOf(each)}, cover`,
            subject: subjectOf(each),
            found: `${part.code}, a bore of ${mmText(bore.mm)}${bore.shrinks ? ' as supplied' : ''} over ${beneath.words}`,
            limit: `a bore of ${bore.shrinks ? 'more than' : 'at least'} ${mmText(beneath.mm)}`,
            source: bore.shrinks ? `${SHRINK_SOURCE}; ${beneath.source}` : beneath.source,
            todo: 'Name a wider cover, or correct its bore.',
          },
        ];
      });
    }),
  );
}

interface Bore {
  mm: number;
  shrinks: boolean;
}

function boreOf(part: Part): Bore | undefined {
  if ((part.kind !== 'boot' && part.kind !== 'sleeve') || part.boreMm === undefined) return undefined;
  return { mm: part.boreMm, shrinks: part.kind === 'sleeve' && part.sleeveType === 'heatShrink' };
}

function goesOver({ mm, shrinks }: Bore, outsideMm: number): boolean {
  return shrinks ? passesOver(mm, outsideMm) : mm >= outsideMm;
}
