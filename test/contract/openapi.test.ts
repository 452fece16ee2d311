import { createConfig, lintFromString } from '@redocly/openapi-core';
import spectralCore, { type RulesetDefinition } from '@stoplight/spectral-core';
import rulesets from '@stoplight/spectral-rulesets';
import { beforeAll, describe, expect, test } from 'vitest';
import { createApp } from '../../api/app.ts';
import type { Deps } from '../../api/http/deps.ts';

const deps = { log: { info: () => undefined }, newId: () => 'x' } as unknown as Deps;
const documentOf = async (more: Partial<Deps> = {}) =>
  (await createApp({ ...deps, ...more }).request('/openapi.json')).text();
let text: string;

beforeAll(async () => {
  text = await documentOf();
});

describe('the document of the API', () => {
  test('is clean under the recommended rules of redocly', async () => {
    const config = await createConfig({ extends: ['recommended'] });
    const found = await lintFromString({ source: text, config, absoluteRef: 'openapi.json' });
    expect(found.map(({ ruleId, message, location }) => [ruleId, message, location[0]?.pointer])).toEqual([]);
    // It is read: without a title it is not clean.
    const bare = JSON.stringify({ ...(JSON.parse(text) as object), info: {} });
    expect(await lintFromString({ source: bare, config, absoluteRef: 'openapi.json' })).not.toEqual([]);
  });

  test('is clean under the rules spectral:oas', async () => {
    const spectral = new spectralCore.Spectral();
    spectral.setRuleset({ extends: [[rulesets.oas as RulesetDefinition, 'recommended']] });
    const found = await spectral.run(JSON.parse(text) as Record<string, unknown>);
    expect(found.map(({ code, message, path }) => [code, message, path.join('/')])).toEqual([]);
    const bare = { ...(JSON.parse(text) as object), info: {}, paths: {}, components: {} };
    expect(await spectral.run(bare)).not.toEqual([]);
    // It looks at every reference of a document that grows with each call.
  }, 300_000);

  test('declares every tag that a call has, and no other, each with what its calls are for', () => {
    const { tags, paths } = JSON.parse(text) as {
      tags: { name: string; description: string }[];
      paths: Record<string, Record<string, { tags: string[] }>>;
    };
    const used = Object.values(paths).flatMap((calls) => Object.values(calls).flatMap((call) => call.tags));
    expect(new Set(tags.map(({ name }) => name))).toEqual(new Set(used));
    for (const { description } of tags) expect(description).toMatch(/^[A-Z].*\.$/);
  });

  test('names the public address of the server where one is set', async () => {
    const told = JSON.parse(await documentOf({ publicUrl: 'https://looms.example.org' })) as {
      servers: { url: string }[];
    };
    expect(told.servers.map(({ url }) => url)).toEqual(['https://looms.example.org']);
  });
});
