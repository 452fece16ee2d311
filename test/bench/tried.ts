/** What was tried where targets are missed, printed below them. */
export const TRIED = `Where targets are missed, this was tried:
- The relaxation is quick: about 130 linear programmes of a wide instance, with the bounds at them, took some 2.5 s of processor; what takes the rest is the solver on the few plans that are left. Its root takes a second or two on 400 columns even where it needs no more than nine nodes.
- Without the solver's heuristics, restarts or presolve for these, and with looser tolerances: from a third less to half more, no gain on the whole.
- A better mix looked for among plans within a quarter of the gap, by 20 nodes: found as little as within a twentieth, by 3 nodes, and took up to 3 s each time.
- All plans within the gap written out at once: up to 22,000 columns, 10 s. Without those that others do as well as, and parting a node that has more than 1,500: half of that.
- Plans with parts in several suppliers are written out for what is cut, and nodes parted by units of kits: one loom is proven in seconds, ten in one order in half a minute. What is left is the solver on leaves where kits make plans too many to be written out, so that these are bought by units.
- Goods that must be made up to a limit by what is sold: the solver's own model on what is left took 20 s where it was no better than the model of plans with just those suppliers by units, 3 s. One set of parcels after the other shut out: 15 s for the first.
- Leaves of more nodes, or with any number of plans by units: less for looms, up to four times as much for counted parts.
- Ten and forty looms in two orders: all purchases out of which a colour's pieces come are too many for half of the colours; bounds count lengths there, and are some 4 % below.
- Cutting: more fillings taken in each round than four: no gain. One linear programme kept alive, branching on pairs of pieces and subset-row cuts are not tried.`;
