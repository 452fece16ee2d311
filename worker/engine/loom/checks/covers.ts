import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Part } from '../../model/part.ts';
import { bundles } from '../../trade/bundle.ts';
import { passesOver, SHRINK_SOURCE } from '../../trade/shrink.ts';
import { toNanometre } from '../../units/nanometre.ts';
import type { WireFigures } from '../wires/wireFigures.ts';
import type { CheckContext } from './context.ts';
import { mmText } from './words.ts';
import {
  pathOf,
  subjectOf,
  whereOf,
  wiresIn,
  type EndAt,
  type PointAt,
  type Termination,
} from './terminations.ts';

/**
 * Boots and sleeves over wire ends that do not go over what they cover, heat-shrink being wider than it and the rest no
 * narrower: the wire, or all the wires of a shared terminal; and terminals over which their ends state different covers.
 */
export function checkCovers({ parts, figures }: CheckContext, points: readonly PointAt[]): Finding[] {
  const bundleOf = bundles();
  return points.flatMap(({ terminations }) =>
    terminations.flatMap((termination): Finding[] => {
      const byPart = new Map<string, EndAt[]>();
      for (const each of termination.ends) if (each.end.cover) addTo(byPart, each.end.cover.part, each);
      return [
        ...[...byPart].flatMap(([code, [first]]) => {
          const part = parts.get(code);
          return part && first ? boreFindings(part, first, termination, figures, bundleOf) : [];
        }),
        ...differing(termination, byPart),
      ];
    }),
  );
}

function boreFindings(
  part: Part,
  first: EndAt,
  termination: Termination,
  figures: WireFigures,
  bundleOf: ReturnType<typeof bundles>,
): Finding[] {
  const bore = boreOf(part);
  const known = termination.ends.flatMap(({ wire }) => figures.of(wire).outsideDiameterMm ?? []);
  const around = bore === undefined ? undefined : bundleOf(known.map(({ value }) => value));
  // What is not known of a wire can only make it thicker.
  const overMm = around && toNanometre(around.packedMm);
  if (bore === undefined || overMm === undefined || goesOver(bore, overMm)) return [];
  const what =
    termination.ends.length === 1
      ? `a wire of up to ${mmText(overMm)}`
      : `${mmText(overMm)} of wires ${wiresIn(termination)} together`;
  return [
    {
      code: 'cover-too-small',
      severity: 'warning',
      at: pointer([...pathOf(first), 'cover', 'part']),
      where: `${whereOf(first)}, cover`,
      subject: subjectOf(first),
      found: `${part.code}, a bore of ${bore.mm} mm${bore.shrinks ? ' as supplied' : ''} over ${what}`,
      limit: `a bore of ${bore.shrinks ? 'more than' : 'at least'} ${mmText(overMm)}`,
      source: [...(bore.shrinks ? [SHRINK_SOURCE] : []), ...new Set(known.map(({ source }) => source))].join(
        '; ',
      ),
      todo: 'Name a wider cover, or correct the bore of this one.',
    },
  ];
}

/** Over one terminal goes one cover: each part that is stated is counted once, so that none is missing. */
function differing({ ends }: Termination, byPart: ReadonlyMap<string, readonly EndAt[]>): Finding[] {
  const stated = ends.filter(({ end }) => end.cover);
  const [first] = stated;
  const other = stated.find(
    ({ end }) => end.cover?.part !== first?.end.cover?.part || end.cover?.supply !== first?.end.cover?.supply,
  );
  if (!first || !other) return [];
  const isPart = byPart.size > 1;
  return [
    {
      code: 'covers-differ',
      severity: 'warning',
      at: pointer([...pathOf(other), 'cover', isPart ? 'part' : 'supply']),
      where: `${whereOf(other)}, cover`,
      subject: subjectOf(other),
      found: `${coverWords(other)} over a terminal for which ${whereOf(first)} states ${coverWords(first)}`,
      limit: 'one cover for one terminal',
      source: 'common practice, no source',
      todo: isPart
        ? 'Each of them is counted once. State the same cover at all ends that share the terminal, or state it at one of them.'
        : 'It is bought once. State the same supply at all ends that share the terminal, or state the cover at one of them.',
    },
  ];
}

function coverWords({ end: { cover } }: EndAt): string {
  return `${cover?.part ?? ''} (${cover?.supply ?? ''})`;
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
