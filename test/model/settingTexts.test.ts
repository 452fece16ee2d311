import { expect, test } from 'vitest';
import { SETTING_NAMES, settingDescription } from '../../worker/engine/model/settings.ts';

/** Tables sort the settings by name, so that no line can lean on the one before it. */
const LEANING = /\b(above|below|the same|that (failure rate|time|size)|these|those above|former|latter)\b/i;

test.each(SETTING_NAMES)('what %s is for stands by itself, wherever its line stands', (name) => {
  const text = settingDescription(name);
  expect(text).not.toBe('');
  expect(text).not.toMatch(LEANING);
});
