import { z } from 'zod';
import { addReport, listReports, removeReport, type StoredReport } from '../../db/fitReports.ts';
import { Code, Name, Note } from '../../worker/engine/model/code.ts';
import { FitRelation } from '../../worker/engine/model/fit.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MADE_ID, pageInput, PageQuery, pageReply } from '../http/paging.ts';

const FitParams = z.strictObject({ from: Code, relation: FitRelation, to: Code });
const stated = {
  says: z.enum(['fits', 'doesNotFit']).meta({ description: 'What the person found who tried it.' }),
  vehicle: Name.optional().meta({ description: 'The vehicle on which it was tried.' }),
  loom: Code.optional().meta({ description: 'The loom in which it was tried.' }),
  note: Note.optional(),
  photo: z
    .url({ protocol: /^https$/ })
    .max(500)
    .optional()
    .meta({ description: 'The address of a photo, which begins with https. It is kept and never fetched.' }),
};
const FitReport = z
  .strictObject(stated)
  .meta({ id: 'FitReport', description: 'What somebody found of a fit.', example: { says: 'fits' } });
const StoredFitReport = z
  .strictObject({
    id: z.uuid(),
    by: z.string().meta({ description: 'Who reported it, as the record names them.' }),
    at: z.iso.datetime(),
    ...stated,
  })
  .meta({ id: 'StoredFitReport' });
const FitReports = z
  .strictObject({
    items: z.array(StoredFitReport),
    next: z.union([z.string(), z.null()]),
    counted: z.strictObject({ fits: z.int().min(0), doesNotFit: z.int().min(0) }),
  })
  .meta({ id: 'Page_fitReports', description: 'Reports of a fit, and how many there are that say which.' });
const PATH = '/v1/fits/{from}/{relation}/{to}/reports';

const present = ({ at, ...rest }: StoredReport) => ({ ...rest, at: at.toISOString() });

export const fitReportRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: PATH,
    tag: 'fits',
    role: 'viewer',
    summary: 'List what people found of a fit',
    params: FitParams,
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: FitReports } },
    handle: async ({ ctx, params, query, path }) => {
      const page = await listReports({ ctx, input: { ...pageInput(query, MADE_ID), name: params } });
      const reply = pageReply(page, present, path, query);
      return { ...reply, body: { ...reply.body, counted: page.counted } };
    },
  }),
  endpoint({
    method: 'post',
    path: PATH,
    tag: 'fits',
    role: 'member',
    summary: 'Report whether two parts fit',
    description: 'The status of the fit stays what an editor set. Reports are counted next to it.',
    params: FitParams,
    body: FitReport,
    answers: { 201: { description: 'The report.', schema: StoredFitReport } },
    handle: async ({ ctx, params, body }) => {
      const report = await addReport({ ctx, input: { name: params, report: body } });
      const { from, relation, to } = params;
      const location = `/v1/fits/${from}/${relation}/${to}/reports/${report.id}`;
      return { status: 201, body: present(report), headers: { location } };
    },
  }),
  endpoint({
    method: 'delete',
    path: `${PATH}/{id}`,
    tag: 'fits',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Remove a report of a fit',
    params: FitParams.extend({ id: z.uuid() }),
    answers: { 204: { description: 'Removed.' } },
    handle: async ({ ctx, params: { id, ...name } }) => {
      await removeReport({ ctx, input: { name, id } });
      return { status: 204 };
    },
  }),
];
