import { z } from 'zod';
import { Code, Day, Name, count } from './code.ts';
import { LIMITS } from './limits.ts';
import { Currency } from './money.ts';
import { checkReferences, loomContent } from './loom.ts';
import { Fit, fitKey } from './fit.ts';
import { Offer, offerParts } from './offer.ts';
import { Part } from './part.ts';
import { Settings } from './settings.ts';
import { Supplier } from './supplier.ts';
import { partsNamed } from './loomReferences.ts';
import { isJobSound, isLoomSound } from './soundness.ts';

export const JOB_FORMAT = 'loomwright-job';
export const JOB_VERSION = 1;

/** What POST /v1/quotes asks: which looms, how many of each, and settings that override the club's and the looms'. */
const requestShape = {
  looms: z
    .array(
      z.strictObject({
        loom: Code,
        revision: count(1).optional(),
        quantity: count(1, LIMITS.loomQuantity),
        options: z.array(Name).max(LIMITS.options).optional().meta({
          description: 'The options of the loom with which it is made; none: only what is always there.',
        }),
      }),
    )
    .min(1)
    .max(LIMITS.quoteLooms),
  settings: Settings.optional(),
};

export const QuoteRequest = z
  .strictObject({
    ...requestShape,
    asOf: Day.optional().meta({
      description: 'The day for which prices are judged; today where none is stated.',
    }),
  })
  .superRefine((request, issues) => {
    const seen = new Set<string>();
    request.looms.forEach((line, index) => {
      if (seen.has(line.loom))
        issues.addIssue({
          code: 'custom',
          path: ['looms', index, 'loom'],
          message: 'a loom stands once in a quote; add its quantities up',
        });
      seen.add(line.loom);
    });
  })
  .meta({ id: 'QuoteRequest' });
export type QuoteRequest = z.infer<typeof QuoteRequest>;

export const ClubTerms = z
  .strictObject({ currency: Currency, settings: Settings.default({}) })
  .meta({ id: 'ClubTerms' });
export type ClubTerms = z.infer<typeof ClubTerms>;

export const JobLoom = z
  .strictObject({ code: Code, revision: count(1).default(1), ...loomContent })
  .superRefine(checkReferences, { when: ({ value }) => isLoomSound(value) })
  .meta({ id: 'JobLoom' });
export type JobLoom = z.infer<typeof JobLoom>;

/** Everything that a quote is worked out from, in one document: the shapes of the API, no server needed. */
export const Job = z
  .strictObject({
    format: z.literal(JOB_FORMAT),
    version: z.literal(JOB_VERSION),
    asOf: Day,
    club: ClubTerms,
    parts: z.array(Part).max(LIMITS.jobParts),
    suppliers: z.array(Supplier).max(LIMITS.jobSuppliers),
    offers: z.array(Offer).max(LIMITS.jobOffers),
    fits: z.array(Fit).max(LIMITS.fits).default([]),
    looms: z.array(JobLoom).min(1).max(LIMITS.quoteLooms),
    request: z.strictObject(requestShape),
  })
  .superRefine(
    (job, issues) => {
      const fault = (code: string, path: PropertyKey[], message: string) =>
        issues.addIssue({ code: 'custom', path, message, params: { code } });
      const codes = (list: { code: string }[], field: string) => {
        const seen = new Map<string, number>();
        list.forEach((item, index) => {
          const first = seen.get(item.code);
          if (first !== undefined)
            fault(
              'duplicate-code',
              [field, index, 'code'],
              `the code ${item.code} stands already at ${field}/${first}; a code is used once`,
            );
          else if (typeof item.code === 'string') seen.set(item.code, index);
        });
        return seen;
      };
      const parts = codes(job.parts, 'parts');
      const suppliers = codes(job.suppliers, 'suppliers');
      codes(job.offers, 'offers');
      const looms = codes(job.looms, 'looms');
      const unknown = (set: Map<string, number>, word: string, code: string, path: PropertyKey[]) => {
        if (typeof code === 'string' && !set.has(code))
          fault(
            `unknown-${word}`,
            path,
            `there is no ${word} ${code}; add it to the ${word}s or name another`,
          );
      };
      job.offers.forEach((offer, index) => {
        unknown(suppliers, 'supplier', offer.supplier, ['offers', index, 'supplier']);
        for (const { part, path } of offerParts(offer))
          unknown(parts, 'part', part, ['offers', index, ...path]);
      });
      const fits = new Map<string, number>();
      job.fits.forEach((fit, index) => {
        unknown(parts, 'part', fit.from, ['fits', index, 'from']);
        unknown(parts, 'part', fit.to, ['fits', index, 'to']);
        const first = fits.get(fitKey(fit));
        if (first !== undefined)
          fault(
            'duplicate-fit',
            ['fits', index],
            `this fit stands already at fits/${first}; state it once, with what is known last`,
          );
        else fits.set(fitKey(fit), index);
      });
      job.looms.forEach((loom, index) => {
        for (const { part, path } of partsNamed(loom))
          unknown(parts, 'part', part, ['looms', index, ...path]);
      });
      const asked = new Set<string>();
      job.request.looms.forEach((line, index) => {
        unknown(looms, 'loom', line.loom, ['request', 'looms', index, 'loom']);
        const loom = job.looms[looms.get(line.loom) ?? -1];
        if (loom && line.revision !== undefined && line.revision !== loom.revision)
          fault(
            'unknown-revision',
            ['request', 'looms', index, 'revision'],
            `the file holds revision ${loom.revision} of ${line.loom}`,
          );
        line.options?.forEach((option, at) => {
          if (loom && typeof option === 'string' && !(loom.options ?? []).includes(option))
            fault(
              'unknown-option',
              ['request', 'looms', index, 'options', at],
              loom.options?.length
                ? `the loom ${line.loom} has the options ${loom.options.join(', ')}`
                : `the loom ${line.loom} has no options`,
            );
        });
        if (asked.has(line.loom))
          fault(
            'duplicate-loom',
            ['request', 'looms', index, 'loom'],
            'a loom stands once in a request; add its quantities up',
          );
        asked.add(line.loom);
      });
    },
    { when: ({ value }) => isJobSound(value) },
  )
  .meta({ id: 'Job', description: 'A job file.' });
export type Job = z.infer<typeof Job>;
export type JobInput = z.input<typeof Job>;
