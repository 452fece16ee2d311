import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { ClubTerms } from '../../worker/engine/model/job.ts';

/** In which currency, country, buyer and settings a file's terms and a club's differ, in words. */
export function termsApart(file: ClubTerms, club: ClubTerms): string[] {
  const names = [...new Set([...Object.keys(file.settings), ...Object.keys(club.settings)])].sort();
  const told = (value: unknown) => (value === undefined ? 'unset' : canonicalJson(value));
  const valuesOf = (terms: ClubTerms) => terms.settings as Record<string, unknown>;
  return [
    ...(file.currency === club.currency ? [] : [`currency: file ${file.currency}, club ${club.currency}`]),
    ...(file.country === club.country
      ? []
      : [`country: file ${file.country ?? 'unset'}, club ${club.country ?? 'unset'}`]),
    ...(told(file.buyer) === told(club.buyer)
      ? []
      : [`buyer: file ${told(file.buyer)}, club ${told(club.buyer)}`]),
    ...names.flatMap((name) => {
      const [theirs, ours] = [told(valuesOf(file)[name]), told(valuesOf(club)[name])];
      return theirs === ours ? [] : [`${name}: file ${theirs}, club ${ours}`];
    }),
  ];
}
