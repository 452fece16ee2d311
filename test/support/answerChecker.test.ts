import { describe, expect, test } from 'vitest';
import { answerChecker } from './answerChecker.ts';

const document = {
  openapi: '3.1.0',
  paths: {
    '/things/{id}': {
      get: {
        responses: {
          '200': { content: { 'application/json': { schema: { $ref: '#/components/schemas/Thing' } } } },
          '204': {},
        },
      },
    },
  },
  components: {
    schemas: {
      Thing: {
        type: 'object',
        properties: { name: { type: 'string' } },
        required: ['name'],
        additionalProperties: false,
      },
      Problem: { type: 'object', properties: { status: { type: 'integer' } }, required: ['status'] },
    },
  },
};
const check = answerChecker(document);
const answer = (status: number, text: string, type = 'application/json') => ({
  status,
  text,
  headers: new Headers({ 'content-type': type }),
});

describe('the check of answers against the document', () => {
  test('is content with an answer that the document describes', () => {
    expect(check('GET', '/things/1', answer(200, '{"name":"a"}'))).toEqual([]);
    expect(check('GET', '/elsewhere', answer(404, '{"status":404}', 'application/problem+json'))).toEqual([]);
  });

  test.each([
    ['a field of another type', '/things/1', answer(200, '{"name":1}')],
    ['a field too many', '/things/1', answer(200, '{"name":"a","x":1}')],
    ['a status that is not there', '/things/1', answer(201, '{"name":"a"}')],
    ['a type that is not there', '/things/1', answer(200, 'name', 'text/plain')],
    ['a body where there is none', '/things/1', answer(204, 'x')],
    ['a path that is not there and no problem', '/elsewhere', answer(200, '{}')],
    ['a problem that is none', '/elsewhere', answer(404, '{}', 'application/problem+json')],
  ])('objects to %s', (_what, path, got) => {
    expect(check('GET', path, got)).not.toEqual([]);
  });
});
