import { z } from 'zod';
import { courseOfPart } from '../../db/priceCourses.ts';
import { quoteAtTodaysPrices } from '../../db/quoteToday.ts';
import { seenAgain } from '../../db/seenOffers.ts';
import { staleOffers, type StaleOffer } from '../../db/staleOffers.ts';
import { Code, Day } from '../../worker/engine/model/code.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { PriceCourse } from '../../worker/engine/model/priceCourse.ts';
import { QuoteToday } from '../../worker/engine/model/quoteToday.ts';
import { priceCourseSvg } from '../../worker/sheets/pictures/priceLines.ts';
import { priceCourseCsv } from '../../worker/sheets/priceCourse.ts';
import { formOf } from '../http/accept.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { INERT } from '../http/html.ts';
import { CODE_FORM, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';

const COURSE_TYPES = { json: 'application/json', csv: 'text/csv', svg: 'image/svg+xml' } as const;

const SeenRequest = z
  .strictObject({
    offers: z.array(Code).min(1).max(LIMITS.seenAtOnce),
    on: Day.optional().meta({ description: 'The day on which they were seen. Left out: today.' }),
  })
  .meta({ id: 'SeenRequest' });
const SeenAgain = z
  .strictObject({
    on: Day,
    seen: z.array(Code).meta({ description: 'Offers that have this day now.' }),
    already: z.array(Code).meta({ description: 'Offers that had this day before.' }),
  })
  .meta({ id: 'SeenAgain' });

const StaleQuery = PageQuery.extend({
  days: z.coerce
    .number()
    .int()
    .min(0)
    .max(36_500)
    .default(90)
    .meta({ description: 'Offers that were not seen for so many days.' }),
  usedBy: z
    .enum(['quotes'])
    .optional()
    .meta({ description: 'quotes: only offers that a finished quote buys.' }),
});
/** A day and a code. */
const STALE_CURSOR = new RegExp(`^\\d{4}-\\d{2}-\\d{2} ${CODE_FORM}$`);

const StaleOfferOut = z
  .strictObject({
    offer: Code,
    supplier: Code,
    description: z.string().optional(),
    seenOn: Day.optional(),
    days: z.int().optional().meta({ description: 'Days since it was seen. Absent where no day is stated.' }),
    quotes: z
      .array(z.strictObject({ id: z.uuid(), asOf: Day, quote: z.string() }))
      .meta({ description: 'The newest 5 quotes that buy it.' }),
    quoteCount: z.int().meta({ description: 'How many quotes buy it.' }),
  })
  .meta({ id: 'StaleOffer' });

function presentStale({ offer, days, quotes, quoteCount }: StaleOffer): z.infer<typeof StaleOfferOut> {
  const { code, supplier, description, seenOn } = offer;
  return {
    offer: code,
    supplier,
    ...(description === undefined ? {} : { description }),
    ...(seenOn === undefined ? {} : { seenOn }),
    ...(days === undefined ? {} : { days }),
    quotes: quotes.map(({ id, asOf }) => ({ id, asOf, quote: `/v1/quotes/${id}` })),
    quoteCount,
  };
}

export const priceRoutes: Endpoint[] = [
  endpoint({
    method: 'post',
    path: '/v1/offers/seen',
    tag: 'offers',
    role: 'editor',
    summary: 'Say that offers were seen again at the same price',
    description:
      'Each offer gets the day as its `seenOn`, and all else stays as it is. All of them or none: while a code is unknown, or a price was seen later than that, nothing is changed.',
    body: SeenRequest,
    answers: { 200: { description: 'What was changed.', schema: SeenAgain } },
    handle: async ({ ctx, body }) => ({ status: 200, body: await seenAgain({ ctx, input: body }) }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/stale-offers',
    tag: 'offers',
    role: 'viewer',
    summary: 'List offers by the age of their prices, with the quotes that buy them',
    description:
      'First the offers that state no day, then the oldest. An offer can have any code, so that the path is not one of an offer.',
    query: StaleQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(StaleOfferOut, 'Page_staleOffers') } },
    handle: async ({ ctx, query, path }) => {
      const input = {
        ...pageInput(query, STALE_CURSOR),
        days: query.days,
        usedByQuotes: query.usedBy === 'quotes',
      };
      return pageReply(await staleOffers({ ctx, input }), presentStale, path, query);
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/parts/{code}/prices',
    tag: 'parts',
    role: 'viewer',
    summary: 'Read the price course of a part at all suppliers, as JSON, as CSV, or as a picture',
    description:
      'All prices that offers of this part ever had, also of removed offers: for one piece, one metre or one kit, in their own currency, and in the club’s at the rates of those days. As SVG, a step line for each offer.',
    params: z.strictObject({ code: Code }),
    query: z.strictObject({
      format: z.enum(['json', 'csv', 'svg']).optional().meta({
        description: 'json, csv or svg. Left out: as the Accept header asks, or else json.',
      }),
    }),
    answers: {
      200: {
        description: 'The price course.',
        schema: PriceCourse,
        textTypes: [COURSE_TYPES.csv, COURSE_TYPES.svg],
      },
    },
    problems: ['not-acceptable'],
    handle: async ({ ctx, params, query, header }) => {
      const format = formOf(header('accept'), query.format, COURSE_TYPES);
      const course = await courseOfPart({ ctx, input: params });
      const headers = { vary: 'accept' };
      if (format === 'json') return { status: 200, body: course, headers };
      if (format === 'svg')
        return {
          status: 200,
          text: { type: COURSE_TYPES.svg, content: priceCourseSvg(course) },
          headers: { ...headers, ...INERT },
        };
      return {
        status: 200,
        text: { type: `${COURSE_TYPES.csv}; charset=utf-8`, content: priceCourseCsv(course) },
        headers: {
          ...headers,
          'content-disposition': `attachment; filename="${params.code}-prices.csv"`,
        },
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/today',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read what the goods of a quote would cost at today’s prices',
    description:
      'The same purchases from the same offers as they stand today, line by line, against the quote. Goods only: postage, handling, tax and duty are not worked out again, and nobody looks for a cheaper mix. For these ask for a new quote. 409 until the quote is ready.',
    params: z.strictObject({ id: z.uuid() }),
    answers: { 200: { description: 'Then and today.', schema: QuoteToday } },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: await quoteAtTodaysPrices({ ctx, input: params }),
    }),
  }),
];
