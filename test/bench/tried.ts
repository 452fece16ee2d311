/** What was tried where targets are missed, printed below them. */
export const TRIED = `Where targets are missed, this was tried:
- Free postage from a threshold is what keeps wide and widest from being proven: without it the bound at the root lay 0.2 % under the best mix known (wide, seed 1), with it 2 to 11 %. A band's goods are held to its limits for each supplier by itself; that the same goods cannot lift several suppliers over theirs is learned only by parting.
- Parting whether a supplier is used first, instead of its bands of lower charge: larger gaps after as many parts, in a first version.
- More candidates for parting with fewer looks each (8 with 1 or 2, 4 with 2, 2 with 4, instead of 4 with 6): larger gaps in the same time.
- Steps of other sizes and more patience at the root: the same bound within 0.1 %.
- Settled parts by parting plans instead of the solver: faster at times, far slower at others. Without the plans that others do as well as, loom is faster, but some parts still take the solver seconds.
- Settling ties in parts: up to minutes, so that ties of more than 60 offers are left open.
- Cutting: first inequalities from what lengths are worth instead of from every size, and tables of fillings in fewer passes: 13 s to 2 s for ten thousand wires, little for 1,000 pieces. The rest is column generation, up to 35 times where many packings are asked for; its columns are not kept from one to the next.`;
