import { z } from 'zod';
import { Buyer } from './buyer.ts';
import { Code, Country, Day, Name, count } from './code.ts';
import { gatherFaults } from './gathered.ts';
import { LIMITS } from './limits.ts';
import { Currency } from './money.ts';
import { beside, checkReferences, loomContent } from './loom.ts';
import { DoubtedFit, Fit, fitKey } from './fit.ts';
import { Lane } from './lane.ts';
import { Offer, offerParts } from './offer.ts';
import { choiceFaults, choiceTodo, optionSetsOf } from './optionSets.ts';
import { Part } from './part.ts';
import { Rate } from './rate.ts';
import { requestFaults, requestShape } from './request.ts';
import { ClubSettings } from './settings.ts';
import { StockItem } from './stock.ts';
import { withScope } from './short/form.ts';
import { jobScope, withMadeParts } from './short/jobScope.ts';
import { loomScope } from './short/scopes.ts';
import { Supplier } from './supplier.ts';
import { termsFaults } from './termsFaults.ts';
import { ProposedEntries } from './unconfirmed.ts';
import { partsNamed } from './loomReferences.ts';
import { soundJob, soundRequest } from './soundness.ts';

export const JOB_FORMAT = 'loomwright-job';
export const JOB_VERSION = 1;

export const QuoteRequest = z
  .strictObject({
    ...requestShape,
    asOf: Day.optional().meta({
      description: 'The day for which prices and rates are used. Left out: today.',
    }),
  })
  .superRefine((request, issues) => {
    gatherFaults(issues, (fault) => {
      for (const { code, path, message } of requestFaults(soundRequest<typeof request>(request)))
        fault(code, path, message);
    });
  }, beside)
  .meta({ id: 'QuoteRequest' });
export type QuoteRequest = z.infer<typeof QuoteRequest>;

export const ClubTerms = z
  .strictObject({
    currency: Currency,
    country: Country.optional().meta({ description: 'The country to which parcels are sent.' }),
    buyer: Buyer.optional().meta({ description: 'Who orders, if the request states no buyer.' }),
    settings: ClubSettings.default({}),
  })
  .meta({ id: 'ClubTerms' });
export type ClubTerms = z.infer<typeof ClubTerms>;

export const optionsLeftOut = z.array(Name).optional().meta({
  description:
    'Only in the job that a result was worked from: options of this loom’s items that the request does not use. Those items are left out.',
});

export const JobLoom = withScope(
  z
    .strictObject({
      code: Code,
      revision: count(1).default(1),
      ...loomContent,
      optionsLeftOut,
    })
    .superRefine(checkReferences, beside)
    .meta({ id: 'JobLoom' }),
  loomScope,
);
export type JobLoom = z.infer<typeof JobLoom>;

const JobParts = z.array(Part).max(LIMITS.jobParts);

/** Everything that a quote is worked out from, in one document: the shapes of the API, no server needed. */
export const Job = withScope(
  z
    .strictObject({
      format: z.literal(JOB_FORMAT),
      version: z.literal(JOB_VERSION),
      asOf: Day,
      club: ClubTerms,
      parts: JobParts,
      suppliers: z.array(Supplier).max(LIMITS.jobSuppliers),
      offers: z.array(Offer).max(LIMITS.jobOffers),
      fits: z.array(Fit).max(LIMITS.fits).default([]),
      rates: z.array(Rate).max(LIMITS.rates).default([]),
      lanes: z.array(Lane).max(LIMITS.lanes).default([]),
      stock: z.array(StockItem).max(LIMITS.stock).default([]),
      looms: z.array(JobLoom).min(1).max(LIMITS.quoteLooms),
      request: z.strictObject(requestShape),
      unconfirmed: ProposedEntries.optional(),
      doubtedFits: z.array(DoubtedFit).max(LIMITS.fits).optional(),
    })
    .superRefine((document, issues) => {
      const { value: job, unsure } = soundJob<typeof document>(document);
      gatherFaults(issues, (fault) => {
        const codes = (list: { code: string }[], field: string) => {
          const seen = new Map<string, number>();
          list.forEach((item, index) => {
            const first = seen.get(item.code);
            if (first !== undefined)
              fault(
                'duplicate-code',
                [field, index, 'code'],
                `the code ${item.code} is already used at ${field}/${first}; use each code once`,
              );
            else if (typeof item.code === 'string') seen.set(item.code, index);
          });
          return seen;
        };
        const parts = codes(job.parts, 'parts');
        const suppliers = codes(job.suppliers, 'suppliers');
        const offers = codes(job.offers, 'offers');
        for (const field of ['rates', 'lanes', 'stock'] as const) codes(job[field], field);
        const looms = codes(job.looms, 'looms');
        const unknown = (set: Map<string, number>, word: string, code: string, path: PropertyKey[]) => {
          if (typeof code === 'string' && !set.has(code) && !unsure.has(`${word}s`))
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
          if ([fit.from, fit.relation, fit.to].some((each) => typeof each !== 'string')) return;
          const first = fits.get(fitKey(fit));
          if (first !== undefined)
            fault(
              'duplicate-fit',
              ['fits', index],
              `this fit is already at fits/${first}; state it once, with what is known now`,
            );
          else fits.set(fitKey(fit), index);
        });
        job.looms.forEach((loom, index) => {
          for (const { part, path } of partsNamed(loom))
            unknown(parts, 'part', part, ['looms', index, ...path]);
        });
        job.request.looms.forEach((line, index) => {
          unknown(looms, 'loom', line.loom, ['request', 'looms', index, 'loom']);
          const loom = job.looms[looms.get(line.loom) ?? -1];
          if (loom && line.revision !== undefined && line.revision !== loom.revision)
            fault(
              'unknown-revision',
              ['request', 'looms', index, 'revision'],
              `the file holds revision ${loom.revision} of ${line.loom}`,
            );
          if (!loom) return;
          const sets = optionSetsOf(loom.options);
          const chosen = line.options ?? [];
          chosen.forEach((option, at) => {
            if (typeof option === 'string' && !sets.names.includes(option))
              fault(
                'unknown-option',
                ['request', 'looms', index, 'options', at],
                sets.names.length > 0
                  ? `the loom ${line.loom} has the options ${sets.names.join(', ')}`
                  : `the loom ${line.loom} has no options`,
              );
          });
          for (const wrong of choiceFaults(sets, chosen))
            fault(
              wrong.code,
              ['request', 'looms', index, 'options', ...(wrong.index === undefined ? [] : [wrong.index])],
              choiceTodo(wrong, line.loom),
            );
        });
        job.stock.forEach(({ part }, index) => unknown(parts, 'part', part, ['stock', index, 'part']));
        job.unconfirmed?.parts?.forEach((part, index) =>
          unknown(parts, 'part', part, ['unconfirmed', 'parts', index]),
        );
        job.unconfirmed?.offers?.forEach((offer, index) =>
          unknown(offers, 'offer', offer, ['unconfirmed', 'offers', index]),
        );
        for (const { code, path, message } of termsFaults(job)) fault(code, path, message);
        for (const field of ['shutOut', 'insistOn'] as const)
          job.request[field]?.forEach((supplier, index) =>
            unknown(suppliers, 'supplier', supplier, ['request', field, index]),
          );
        job.request.pinned?.forEach(({ part, offer }, index) => {
          unknown(parts, 'part', part, ['request', 'pinned', index, 'part']);
          unknown(offers, 'offer', offer, ['request', 'pinned', index, 'offer']);
        });
        job.request.buildOrBuy?.tools?.forEach(({ part }, index) => {
          const path = ['request', 'buildOrBuy', 'tools', index, 'part'];
          unknown(parts, 'part', part, path);
          const kind = job.parts[parts.get(part) ?? -1]?.kind;
          if (kind !== undefined && kind !== 'tool')
            fault(
              'not-a-tool',
              path,
              `${part} is no tool but of the kind ${kind}; name a part of the kind tool`,
            );
        });
        for (const { code, path, message } of requestFaults(job.request))
          fault(code, ['request', ...path], message);
      });
    }, beside)
    .meta({ id: 'Job', description: 'A job file.' }),
  jobScope(JobParts),
  withMadeParts,
);
export type Job = z.infer<typeof Job>;
export type JobInput = z.input<typeof Job>;
