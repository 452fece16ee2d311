import type { Job } from '../../../worker/engine/model/job.ts';

/** What a job holds of the rules of sourcing, in a word each. */
export function rulesIn(job: Job): Set<string> {
  return new Set([...ofOffers(job), ...ofSuppliers(job), ...ofParts(job), ...ofRequest(job)]);
}

function ofOffers({ offers }: Job): string[] {
  return offers.flatMap((offer) => [
    offer.form,
    ...named({
      breaks: (offer.breaks ?? []).length > 0,
      minimumPacks: offer.form !== 'metre' && offer.minimumPacks > 1,
      stepPacks: offer.form !== 'metre' && offer.stepPacks > 1,
      stock: (offer.form === 'metre' ? offer.stockMm : offer.stockPacks) !== undefined,
      notNew: offer.condition !== 'new',
      offerLeadDays: offer.leadDays !== undefined,
      tolerance: offer.form === 'length' && offer.tolerancePercent > 0,
      endLoss: offer.form === 'length' && offer.endLossMm > 0,
    }),
  ]);
}

function ofSuppliers({ suppliers, lanes, rates }: Job): string[] {
  const bySuppliers = suppliers.flatMap(
    ({ postage, minimumOrder, handling, pricesInclude, country, currency }) =>
      named({
        postageByValue: postage?.by === 'value',
        postageByWeight: postage?.by === 'weight',
        freeByValue:
          postage?.by === 'value' && postage.bands.some(({ charge }) => Number(charge.amount) === 0),
        freeByValueOfWeighed: postage?.by === 'weight' && postage.freeFromValue !== undefined,
        minimumOrder: minimumOrder !== undefined,
        handling: handling !== undefined,
        taxAdded:
          pricesInclude === 'noTax' && lanes.some(({ from, to }) => from === country && to === country),
        exchange: rates.some((rate) => rate.currency === currency),
      }),
  );
  const byLanes = lanes
    .filter(({ from, to }) => from !== to)
    .flatMap((lane) =>
      named({
        importTax: lane.taxPercent > 0,
        duty: lane.dutyPercent > 0,
        taxOverValue: lane.taxOverValue !== undefined,
        dutyOverValue: lane.dutyOverValue !== undefined,
        clearanceFee: lane.clearanceFee !== undefined,
        clearanceOverValue: lane.clearanceOverValue !== undefined,
      }),
    );
  return [...bySuppliers, ...byLanes];
}

function ofParts({ parts, stock, looms }: Job): string[] {
  const needed = new Set(looms.flatMap((loom) => loom.parts.map(({ part }) => part)));
  return [
    ...parts.flatMap(({ code, kind, family, standsInFor = [] }) =>
      named({
        standIn: standsInFor.length > 0 && family === undefined,
        standInNeededItself: standsInFor.length > 0 && needed.has(code),
        otherFamily: standsInFor.length > 0 && family !== undefined,
        tool: kind === 'tool',
        tape: kind === 'tape',
      }),
    ),
    ...stock.map(({ form }) => `shelf ${form}`),
    ...named({
      takenOffTheShelfFirst: looms.some((loom) => loom.parts.some(({ supply }) => supply === 'stock')),
    }),
  ];
}

function ofRequest({ request }: Job): string[] {
  const { settings = {} } = request;
  return named({
    orders: request.looms.some(({ wave = 1 }) => wave > 1),
    samples: request.samples !== undefined,
    neededBy: request.neededBy !== undefined,
    atMostSuppliers: request.atMostSuppliers !== undefined,
    shutOut: request.shutOut !== undefined,
    insistOn: request.insistOn !== undefined,
    pinned: request.pinned !== undefined,
    parcelNuisance: request.parcelNuisance !== undefined,
    usedAccepted: settings.conditionsAccepted?.includes('used') === true,
    oneColourOneSupplier: settings.oneColourOneSupplier === true,
    colourOfMany: settings.oneColourOneSupplier === false,
  });
}

const named = (facts: Record<string, boolean>) =>
  Object.entries(facts).flatMap(([name, holds]) => (holds ? [name] : []));
