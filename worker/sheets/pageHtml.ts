import { escaped } from './html.ts';
import { STYLE } from './style.ts';

/** A whole document to print, on A4 or Letter, that needs nothing from elsewhere. `body` is HTML, escaped already. */
export function pageHtml(title: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
${body}
</body>
</html>
`;
}
