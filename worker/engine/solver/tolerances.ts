/**
 * Every number below which two amounts are not told apart, or from which on something is near enough, in the solver, the
 * cutting and the sourcing: each named by what it decides, with why it is of this size and on which side an error does no
 * harm. Sums in double precision are off by about 1e-16 of their largest term for each term. Sizes without a derivation
 * were tried: they hold on the tests, the proofs and the bench.
 */

// The solver. Its own defaults are 1e-6 for whole numbers and 1e-7 for the simplex method.

/**
 * By how much a column may miss a whole number, and a row its limit, while the solver branches. Coefficients up to a
 * million keep an error of it below half of what costs and goods are counted in. Too loose is found out: what is rounded
 * is held against the rows again.
 */
export const WHOLE_NUMBER = 1e-7;

/** The same with larger coefficients. Tighter than the solver resolves costs it time and no truth. */
export const WHOLE_NUMBER_LARGE = 1e-9;

/**
 * By how much rows and reduced costs may be missed by the simplex method. Bounds are worked out from its multipliers anew,
 * at which any error only makes them weaker.
 */
export const SIMPLEX_ERROR = 1e-9;

/** With large coefficients such small ones are kept too: one left out would let in what the model forbids. */
export const KEPT_COEFFICIENT = 1e-12;

/**
 * By how much, in shares of its largest term, whole values may break a row: the rounding of a sum. Too tight would stop a
 * right answer with an error; too loose let a wrong one pass, which the exact price then shows.
 */
export const BROKEN_ROW = 1e-9;

/** The same where columns stay unrounded, so that the solver's own tolerance adds to it. */
export const BROKEN_ROW_UNROUNDED = 1e-6;

/** A column that is used no more than this is not used: ten times finer, it is the simplex method's error. A start is missed at worst. */
export const COLUMN_IN_USE = 1e-9;

// Floating point. Shares that are added so that a bound is never below the exact value; each is above what rounding can make.

/** Of a sum of up to 2^53 whole numbers that stay below 2^53, then multiplied and divided a few times: 2^-53 a step. */
export const ROUNDED_SUM = 2 ** -48;

/** Of one quotient: 2^-53, and again for what is done with it. */
export const ROUNDED_QUOTIENT = 2 ** -50;

// Cutting. Worths are in lengths, about 1 each, unless something else is said.

/** Worths that are not whole are told apart down to this share: sums of a thousand pieces are sure to 1e-13. Coarser misses a filling that is hardly better. */
export const BETTER_FILLING = 1e-11;

/** A filling is taken in where it is worth so much more than it costs. Less is the solver's; what is left out of use is in the bound. */
export const FILLING_OF_USE = 1e-9;

/** Fractions that differ from a whole number, or from one another, by less count as that: the solver's error times the lengths. A dive proves nothing. */
export const DIVE_FRACTION = 1e-6;

/** A dive is given up where the bound says so much more than all lengths. Later is a few steps for nothing. */
export const DIVE_TOO_SHORT = 1e-6;

/** Fractions are near enough for a dive when no more than so much of a length could still be saved: tried. A dive proves nothing. */
export const DIVE_NEAR_ENOUGH = 0.05;

/** Fractions need no more rounds where the bound says so much more than all lengths. An inequality in whole numbers then proves it. */
export const TOO_SHORT = 1e-7;

/** Fractions are near enough for an inequality when the bound is within such a share of them: tried. A weaker inequality is valid too. */
export const FRACTIONS_NEAR_ENOUGH = 1e-3;

/** An inequality is broken, or stronger than another, by more than this share of its need: a hundred times the simplex method's error. One that is missed is one fewer. */
export const BROKEN_INEQUALITY = 1e-7;

/** An inequality says more of a stock than another by more than this share: two quotients of whole numbers. One that is missed is one fewer. */
export const SAYS_MORE = 1e-9;

/** Stands for the worth of a stock that is worth nothing, so that it can be divided by: whole worths are 1 at least. */
export const WORTH_NOTHING = 1e-9;

/** Values are whole numbers where they are off by less: the solver's error times the denominators that are tried. An inequality holds for any values. */
export const WHOLE_VALUE = 1e-6;

/** By such a share an inequality may give a length more than it is worth. It is weaker by that, and valid. */
export const WORTH_TOO_MUCH = 1e-5;

/** By such a share fillings beside the best may be worth less than the best of the rest: tried. They are only offered. */
export const FILLING_BESIDE = 1e-3;

// Sourcing. Costs are in minor units unless something else is said.

/**
 * By how much the solver's cost of a plan may differ from the exact one, and costs of the solver's from a bound: a
 * thousandth. Too tight stops a right answer with an error; prices that differ by less must be told apart exactly.
 */
export const SOLVER_COST = 0.001;

/** The same, a minor unit in so many. */
export const SOLVER_COSTS_PER_MINOR = 1_000n;

/** And of very large costs such a share: they are sums of thousands of terms. */
export const SOLVER_COST_SHARE = 1e-12;

/** The solver does not tell a mix from the best that costs less by no more than this share. Too loose would leave one that is better shut out. */
export const SHUT_OUT_COST_SHARE = 1e-9;

/** Waste is compared exactly afterwards: this much more keeps the solver from calling the known plan infeasible. */
export const WASTE_LEEWAY = 1e-7;

/** A limit of cost is stated no finer than half a minor unit in so many. What it lets in is told apart exactly afterwards. */
export const COST_LIMIT_PARTS = 5_000n;

/**
 * Costs nearer than this are not told apart by bounds in floating point: of ten million they are sure to 1e-8. What is no
 * cheaper than the best by more is closed; where costs are whole grains that are coarser, half a grain is used instead.
 */
export const BOUND_COST = 1e-5;

/** A column is of use where its reduced cost lies so much below 0. Less is arithmetic's noise; the bound holds without the column. */
export const COLUMN_OF_USE = 1e-6;

/** Met out of nothing by more than this is not met: a hundred times the simplex method's error. Too tight, and a round more is made. */
export const MET_OUT_OF_NOTHING = 1e-7;

/** Columns are looked for until what is left of the gap is so small a share of it: tried. The bound holds wherever that ends. */
export const GAP_NEAR_ENOUGH = 0.01;

/** A share of a parcel, or of a unit, is neither nothing nor all where it is further from both. What is not parted here is parted later, or by the solver. */
export const SHARE_IN_PART = 1e-6;

/** A change that gains less is not made, so that no circle of roundings goes on. The mix is priced exactly afterwards. */
export const DESCENT_GAIN = 1e-6;

/** Sums of prices, values or grams that differ by no more count as alike; a plan dearer by that may stand for another. Far below `BOUND_COST`. */
export const SUM_OF_PRICES = 1e-9;

/** Goods that miss their lower limit by no more are not made up. Whether they may be ordered is then asked exactly. */
export const GOODS_MISSING = 1e-6;
