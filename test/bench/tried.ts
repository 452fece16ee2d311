/** What was tried where targets are missed, printed below them. */
export const TRIED = `Where targets are missed, this was tried:
- The relaxation is quick: about 130 linear programmes of a wide instance, with the bounds at them, took some 2.5 s of processor; what takes the rest is the solver on the few plans that are left. Its root takes a second or two on 400 columns even where it needs no more than nine nodes.
- Without the solver's heuristics, restarts or presolve for these, and with looser tolerances: from a third less to half more, no gain on the whole.
- A better mix looked for among plans within a quarter of the gap, by 20 nodes: found as little as within a twentieth, by 3 nodes, and took up to 3 s each time.
- All plans within the gap written out at once: up to 22,000 columns, 10 s. Without those that others do as well as, and parting a node that has more than 1,500: half of that.
- Of what is cut from several suppliers, or in several orders, bounds count lengths by an inequality of the cutting, not by plans: where the mix hangs on these (looms of several orders), the whole-number model takes seconds a leaf.
- Cutting: more fillings taken in each round than four: no gain. One linear programme kept alive, branching on pairs of pieces and subset-row cuts are not tried.`;
