import { markup, lined, type Html } from '../html.ts';
import type { At, Picture, Shape } from './picture.ts';

/** A picture as SVG within a page. */
export function svg({ title, width, height, shapes }: Picture): Html {
  return markup`<svg
    class="picture"
    role="img"
    aria-label="${title}"
    viewBox="0 0 ${rounded(width)} ${rounded(height)}"
    width="${rounded(width)}pt"
    height="${rounded(height)}pt"
  >
    ${lined(shapes.map(shapeSvg))}
  </svg>`;
}

/** White round a picture that stands alone. */
const MARGIN = 10;

/** A picture as an SVG file of its own, with what it shows in words. */
export function svgFile({ title, width, height, shapes }: Picture, description: string): string {
  const [across, down] = [rounded(width + 2 * MARGIN), rounded(height + 2 * MARGIN)];
  return `${markup`<svg
    xmlns="http://www.w3.org/2000/svg"
    role="img"
    aria-labelledby="title description"
    viewBox="${-MARGIN} ${-MARGIN} ${across} ${down}"
    width="${across}pt"
    height="${down}pt"
    font-family="Liberation Sans, Arial, Helvetica, sans-serif"
  >
    <title id="title">${title}</title>
    <desc id="description">${description}</desc>
    <rect x="${-MARGIN}" y="${-MARGIN}" width="${across}" height="${down}" fill="#fff" />
    ${lined(shapes.map(shapeSvg))}
  </svg>`.toString()}\n`;
}

const rounded = (value: number) => Math.round(value * 100) / 100;

const grey = (dark: number) => `${Math.round((1 - dark) * 100)}%`;

function shapeSvg(shape: Shape): Html {
  switch (shape.is) {
    case 'box': {
      const { x, y, width, height, dark, line } = shape;
      return markup`<rect
        x="${rounded(x)}"
        y="${rounded(y)}"
        width="${rounded(width)}"
        height="${rounded(height)}"
        fill="${filled(dark)}"
        ${line > 0 ? markup` stroke="#000" stroke-width="${line}"` : ''}
      />`;
    }
    case 'line':
      return markup`<polyline
        points="${pointsOf(shape.points)}"
        fill="none"
        stroke="#000"
        stroke-width="${shape.line}"
        ${shape.dashed === true ? markup` stroke-dasharray="4 3"` : ''}
      />`;
    case 'dot':
      return markup`<circle
        cx="${rounded(shape.x)}"
        cy="${rounded(shape.y)}"
        r="${shape.radius}"
        fill="${filled(shape.dark)}"
        stroke="#000"
        stroke-width="0.8"
      />`;
    case 'words': {
      const { x, y, words, size, anchor, bold = false } = shape;
      return markup`<text
        x="${rounded(x)}"
        y="${rounded(y)}"
        font-size="${size}"
        text-anchor="${anchor}"
        ${bold ? markup` font-weight="bold"` : ''}
        >${words}</text
      >`;
    }
  }
}

function filled(dark: number | undefined): string {
  return dark === undefined ? 'none' : `rgb(${grey(dark)},${grey(dark)},${grey(dark)})`;
}

function pointsOf(points: readonly At[]): string {
  return points.map(([x, y]) => `${rounded(x)},${rounded(y)}`).join(' ');
}
