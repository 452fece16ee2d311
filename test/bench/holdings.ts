import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';

/** What an instance asks of the engine. */
export interface Holdings {
  needs: number;
  offers: number;
  suppliers: number;
  orders: number;
  /** Needs of pieces to be cut. */
  cutNeeds: number;
  /** Distinct lengths of the cut need with the most, and of all together. */
  mostLengths: number;
  lengths: number;
  kits: number;
  /** Connector families for which another may stand in. */
  families: number;
  /** Suppliers whose postage goes by weight. */
  byWeight: number;
  /** Things on the shelf. */
  shelf: number;
}

export function holdingsOf({ requirements, choices, suppliers, groups }: Problem): Holdings {
  const distinct = (list: readonly string[]) => new Set(list).size;
  const isOwn = (supplier: number) => suppliers[supplier]?.own === true;
  const offered = choices.filter(({ supplier }) => !isOwn(supplier));
  const sellers = suppliers.filter(({ own }) => !own);
  const lengths = requirements.flatMap(({ how, pieces }) =>
    how === 'cut' ? [distinct(pieces.map(({ mm }) => `${mm}`))] : [],
  );
  return {
    needs: requirements.length,
    offers: distinct(offered.map(({ offer }) => offer)),
    suppliers: distinct(sellers.map(({ code }) => code)),
    orders: Math.max(0, ...sellers.map(({ wave }) => wave)),
    cutNeeds: lengths.length,
    mostLengths: Math.max(0, ...lengths),
    lengths: lengths.reduce((sum, own) => sum + own, 0),
    kits: distinct(offered.flatMap(({ form, offer }) => (form === 'kit' ? [offer] : []))),
    families: groups.length,
    byWeight: distinct(
      sellers.flatMap(({ code, bands }) =>
        bands.some(({ fromMicrograms }) => fromMicrograms > 0) ? [code] : [],
      ),
    ),
    shelf: distinct(choices.flatMap(({ supplier, offer }) => (isOwn(supplier) ? [offer] : []))),
  };
}
