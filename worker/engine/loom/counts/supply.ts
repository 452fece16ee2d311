import type { JobLoom } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import type { Supply } from '../../model/supply.ts';

/**
 * Whether a part is of a kind that usually stays with the vehicle: any device but a fuse, which is used up. Fuse holders and
 * boxes, relays and lamps with their holders are kept. Common practice, no source.
 */
function isUsuallyKept(part: Part | undefined): boolean {
  return part?.kind === 'device' && part.deviceType !== 'fuse';
}

/** Where the part of a point comes from: as the loom states it; else of what is usually kept as the setting says; else bought. */
export function supplyOf(
  { supply }: Pick<JobLoom['points'][number], 'supply'>,
  part: Part | undefined,
  { deviceSupply }: Pick<SettingValues, 'deviceSupply'>,
): { supply: Supply; bySetting?: true } {
  if (supply !== undefined) return { supply };
  return isUsuallyKept(part) ? { supply: deviceSupply, bySetting: true } : { supply: 'buy' };
}
