import { markup, ours, type Html } from './html.ts';
import { STYLE } from './style.ts';

/** A whole document to print, on A4 or Letter, that needs nothing from elsewhere. */
export function pageHtml(title: string, body: Html, style = STYLE): string {
  return `${pageStart(title, style)}${body.toString()}${PAGE_END}`;
}

/** All of a document up to its body, for one that is written in pieces. */
export function pageStart(title: string, style = STYLE): string {
  return markup`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>${title}</title>
        <style>
          ${ours(style)}
        </style>
      </head>
      <body>
`.toString();
}

export const PAGE_END = `
</body>
</html>
`;
