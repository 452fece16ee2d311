import type { PlanColumn } from './master.ts';
import type { Network, NetworkRequirement } from './network.ts';

/** Each requirement whole from one supplier, in each parcel. */
export function firstPlans(network: Network): PlanColumn[] {
  const { requirements, links, parcels } = network;
  return requirements.flatMap((each, requirement) =>
    wholeSteps(network, each).flatMap(({ link, step }): PlanColumn[] => {
      const { supplier, shared } = links[link]!;
      const places = shared === undefined ? parcels.of[supplier]! : [];
      return (places.length > 0 ? places : [-1]).map((parcel) => ({
        requirement,
        parts: [{ link, step, parcel }],
      }));
    }),
  );
}

function wholeSteps(
  { links }: Network,
  { needs, links: own, listed }: NetworkRequirement,
): { link: number; step: number }[] {
  if (listed) return listed.flatMap((plan) => (plan.length === 1 ? [...plan] : []));
  return own.flatMap((link) => {
    const { steps, stage } = links[link]!;
    const step = steps.findIndex(({ gives }) => gives >= (needs.at(-1) ?? 0));
    return step < 0 || (stage > 0 && needs[0] !== 0) ? [] : [{ link, step }];
  });
}
