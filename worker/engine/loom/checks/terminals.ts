import { joinOf } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import { bundles } from '../../trade/bundle.ts';
import { barrelAreaMm2, barrelText } from '../../trade/crimps.ts';
import { toNanometre } from '../../units/nanometre.ts';
import type { WireFigures } from '../wires/wireFigures.ts';
import type { CheckContext } from './context.ts';
import { figuresOf, isRange, mmText, rangeText, sideOf } from './words.ts';
import { pathOf, subjectOf, whereOf, wiresIn, type PointAt, type Termination } from './terminations.ts';

type Terminal = Extract<Part, { kind: 'terminal' }>;

/** Terminals too big or too small for what is crimped in them, and joined in another way than they are made for. */
export function checkTerminals({ parts, figures }: CheckContext, points: readonly PointAt[]): Finding[] {
  const bundleOf = bundles();
  return points.flatMap(({ terminations }) =>
    terminations.flatMap((termination) => {
      const part = termination.terminal === undefined ? undefined : parts.get(termination.terminal);
      if (part?.kind !== 'terminal') return [];
      return [
        ...barrelFindings(termination, part),
        ...gripFindings(termination, part, figures, bundleOf),
        ...joinFindings(termination, part),
      ];
    }),
  );
}

function barrelFindings(termination: Termination, terminal: Terminal): Finding[] {
  const range = { min: terminal.wireMinMm2, max: terminal.wireMaxMm2 };
  const sizes = termination.ends.map(({ wire }) => wire.size);
  const area = isRange(range) ? barrelAreaMm2(sizes) : undefined;
  const side = area === undefined ? undefined : sideOf(area, range);
  if (!side) return [];
  return [
    {
      ...placeOf(termination),
      code: 'terminal-range',
      severity: 'stop',
      found: `${barrelText(sizes)}, in ${terminal.code} (${terminal.description})`,
      limit: rangeText(range, 'mm²'),
      source: figuresOf(terminal),
      todo:
        side === 'below'
          ? 'There is too little copper in the barrel, and the crimp does not hold. Name a terminal whose range includes this wire.'
          : 'The barrel is too small for it. Name a terminal whose range includes it, or put fewer wires in this one.',
    },
  ];
}

/** The grip closes on the insulation: of several wires on the least circle around them. */
function gripFindings(
  termination: Termination,
  terminal: Terminal,
  figures: WireFigures,
  bundleOf: ReturnType<typeof bundles>,
): Finding[] {
  const range = { min: terminal.insulationMinMm, max: terminal.insulationMaxMm };
  if (!isRange(range) || joinOf(termination.named.end) !== 'crimp') return [];
  const diameters = termination.ends.map(({ wire }) => figures.of(wire).outsideDiameterMm);
  const known = diameters.flatMap((figure) => figure ?? []);
  if (known.length < diameters.length) return [];
  const around = bundleOf(known.map(({ value }) => value));
  const mm = around && toNanometre(around.packedMm);
  const side = mm === undefined ? undefined : sideOf(mm, range);
  if (mm === undefined || !side) return [];
  const sources = [...new Set(known.map(({ source }) => source))].join('; ');
  return [
    {
      ...placeOf(termination),
      code: 'insulation-grip',
      severity: 'warning',
      found: `${mmText(mm)} over the insulation of ${wiresIn(termination)} (${sources}), in ${terminal.code}`,
      limit: rangeText(range, 'mm'),
      source: figuresOf(terminal),
      todo:
        side === 'below'
          ? 'The grip does not hold the insulation, and the crimp breaks where the wire bends. Name a terminal with a smaller grip.'
          : 'The grip does not close around the insulation. Name a terminal with a bigger grip.',
    },
  ];
}

function joinFindings(termination: Termination, { code, join }: Terminal): Finding[] {
  if (join === undefined) return [];
  return termination.ends.flatMap((each): Finding[] => {
    const here = joinOf(each.end);
    const suits = join === 'either' ? here !== 'bare' : here === join;
    // In a joint the ends meet by whatever means; the joint itself is not described.
    if (suits || here === 'joint') return [];
    return [
      {
        code: 'join-differs',
        severity: 'warning',
        at: pointer([...pathOf(each), 'join']),
        where: whereOf(each),
        subject: subjectOf(each),
        found: here === 'bare' ? `a bare end in ${code}` : `${here}, in ${code}`,
        limit: join === 'either' ? 'crimp or solder' : join,
        source: figuresOf({ code }),
        todo: 'Correct the join of this end, or name a terminal that is made for it.',
      },
    ];
  });
}

function placeOf({ named, terminal }: Termination): Pick<Finding, 'at' | 'where' | 'subject'> {
  return {
    at: pointer([...pathOf(named), ...(terminal === undefined ? [] : ['terminal', 'part'])]),
    where: `${whereOf(named)}, terminal`,
    subject: subjectOf(named),
  };
}
