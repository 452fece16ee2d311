import { byCode } from '../../model/code.ts';
import { addTo } from '../../model/group.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import type { LengthRequirement } from '../../model/result.ts';
import type { AskedLoom } from '../asked.ts';
import { cablePieces } from './cables.ts';
import type { Coverings } from '../coverings/layers.ts';
import { coveringPieces } from '../coverings/pieces.ts';
import { spareCovering, type CoveringCut } from '../coverings/spareCovering.ts';
import type { LeftOutList } from '../leftOut.ts';
import { emptyLengthNeed, type LengthPart } from './lengthNeed.ts';
import type { LengthPiece } from './lengthPiece.ts';
import { withTotals } from './withTotals.ts';

/** Rolls up cables and coverings: one requirement a part, whole pieces, or metres of tape, with spares of coverings. */
export function rollUpLengths(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
  coverings: Coverings,
  leftOut: LeftOutList,
  findings: Finding[],
): LengthRequirement[] {
  const needs = new Map<string, LengthRequirement>();
  const spared = new Map<string, CoveringCut[]>();
  for (const asked of looms) {
    const { loom, index, quantity, settings } = asked;
    for (const piece of [...cablePieces(asked, parts), ...coveringPieces(asked, coverings.of(loom.code))]) {
      const { part, what, supply, cut, cores } = piece;
      const at = { path: ['looms', index, ...piece.path], where: `loom ${loom.code}, ${what}` };
      if (!part || !isLength(part)) {
        findings.push(part ? counted(part, piece, at) : notChosen(piece, at));
        continue;
      }
      if (supply !== 'buy') {
        const mm = cut && cut.cutMm * quantity;
        leftOut.length({ code: part.code, label: part.description }, supply, mm, {
          loom: loom.code,
          where: what,
        });
        continue;
      }
      if (!cut) {
        findings.push(withoutLength(piece, at));
        continue;
      }
      const need = needs.get(part.code) ?? emptyLengthNeed(part);
      needs.set(part.code, need);
      need.pieces.push({ loom: loom.code, what, ...(cores ? { cores } : {}), count: quantity, ...cut });
      if (part.kind !== 'cable') addTo(spared, part.code, { cutMm: cut.cutMm, count: quantity, settings });
    }
  }
  return [...needs.values()]
    .sort((a, b) => byCode(a.part, b.part))
    .map((need) => withSpares(need, spared.get(need.part) ?? []));
}

function withSpares(need: LengthRequirement, coverings: readonly CoveringCut[]): LengthRequirement {
  const spare = spareCovering(coverings);
  return withTotals(spare ? { ...need, spares: spare.spares } : need, spare?.step);
}

function isLength(part: Part): part is LengthPart {
  return part.kind === 'cable' || part.kind === 'sleeve' || part.kind === 'tape';
}

interface Place {
  path: PropertyKey[];
  where: string;
}

function counted(part: Part, { subject }: LengthPiece, { path, where }: Place): Finding {
  return {
    code: 'counted-part-by-length',
    severity: 'warning',
    at: pointer([...path, 'part']),
    where,
    subject,
    found: `${part.code}, a ${part.kind}`,
    limit: 'a sleeve, a tape or a cable',
    todo: 'Nothing is bought for this. Name a part that is sold by length.',
  };
}

function notChosen({ subject, notChosen }: LengthPiece, { path, where }: Place): Finding {
  return {
    code: notChosen?.code ?? 'part-not-chosen',
    severity: 'warning',
    at: pointer(path),
    where,
    subject,
    found: notChosen ? `no part named, and none could be chosen: ${notChosen.why}` : 'no part named',
    todo: notChosen
      ? 'Nothing is bought for this. Name the part, or add a part that fits to the catalogue.'
      : 'Nothing is bought for this. Name the part.',
  };
}

function withoutLength({ subject, empty }: LengthPiece, { path, where }: Place): Finding {
  return {
    code: 'length-not-stated',
    severity: 'warning',
    at: pointer(path),
    where,
    subject,
    found: empty ? 'no known diameter along its branches' : 'no length, and no connected branches',
    todo: empty
      ? 'Nothing is bought for this. State the outside diameters of what runs there, or its length.'
      : 'Nothing is bought for this. State its length, or its branches in order.',
  };
}
