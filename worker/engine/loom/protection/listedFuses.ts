import { addTo } from '../../model/group.ts';
import type { Fits } from '../../job/fits.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import type { ListedFor, StatedFuse } from './fuseSites.ts';
import type { Device, PointEnds } from './pointEnds.ts';

/** The fuses that a loom counts among its parts, with a rating. */
export function fusesListed({ loom }: AskedLoom, parts: ReadonlyMap<string, Part>): Device[] {
  const codes = new Set(loom.parts.map(({ part }) => part));
  return [...codes].flatMap((code) => {
    const part = parts.get(code);
    return part?.kind === 'device' && part.deviceType === 'fuse' && part.ratedAmps !== undefined
      ? [part]
      : [];
  });
}

/** A fuse of the list, as it is stated. */
export function asStated({ code, ratedAmps = 0, fuseBasis }: Device): StatedFuse {
  return {
    ratingAmps: ratedAmps,
    basis: fuseBasis ?? 'continuous',
    by: `part ${code} of the loom’s list`,
    from: 'list',
    ...(fuseBasis === undefined ? { basisTaken: true } : {}),
  };
}

/**
 * Of the listed fuses those that may be in a holder: the ones that it is known to take, where the club has tried any; else
 * all that it was not found to refuse.
 */
export function mayHold({ device }: PointEnds, listed: readonly Device[], fits: Fits): readonly Device[] {
  if (!device) return listed;
  const known = listed.map((fuse) => ({ fuse, status: fits.status(device.code, 'takes', fuse.code) }));
  const confirmed = known.filter(({ status }) => status === 'confirmed');
  const open = confirmed.length > 0 ? confirmed : known.filter(({ status }) => status !== 'refuted');
  return open.map(({ fuse }) => fuse);
}

/** What is in a holder of which nobody states the fuse: the listed one, where all that may be in it are alike. */
export function listedFuses(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
  fits: Fits,
): ListedFor {
  const ofLoom = new Map(looms.map((asked) => [asked, fusesListed(asked, parts)] as const));
  return (holder) => {
    const sorts = new Map<string, Device[]>();
    for (const fuse of mayHold(holder, ofLoom.get(holder.asked) ?? [], fits))
      addTo(sorts, `${fuse.ratedAmps ?? 0} ${fuse.fuseBasis ?? ''}`, fuse);
    const [only, ...others] = [...sorts.values()];
    const [fuse] = only ?? [];
    return fuse && others.length === 0 ? [asStated(fuse)] : [];
  };
}
