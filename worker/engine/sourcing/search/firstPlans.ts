import type { PlanColumn } from './master.ts';
import type { Network } from './network.ts';

/** Each requirement whole from one supplier, in each parcel. */
export function firstPlans({ requirements, links, parcels }: Network): PlanColumn[] {
  return requirements.flatMap(({ needs, links: own }, requirement) =>
    own.flatMap((link): PlanColumn[] => {
      const { supplier, steps, stage, shared } = links[link]!;
      const step = steps.findIndex(({ gives }) => gives >= (needs.at(-1) ?? 0));
      if (step < 0 || (stage > 0 && needs[0] !== 0)) return [];
      const places = shared === undefined ? parcels.of[supplier]! : [];
      return (places.length > 0 ? places : [-1]).map((parcel) => ({
        requirement,
        parts: [{ link, step, parcel }],
      }));
    }),
  );
}
