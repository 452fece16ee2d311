import type { Picture, Shape } from '../pictures/picture.ts';
import type { Flow, Unit } from './flow.ts';
import type { Ink } from './ink.ts';

/** A picture at its own size, or smaller where it does not fit on a page. */
export function pictureUnit({ ink, left, width, pageHeight }: Flow, picture: Picture): Unit {
  const scale = Math.min(1, width / picture.width, (pageHeight - 60) / picture.height);
  return {
    height: picture.height * scale,
    draw: (top) => {
      for (const shape of picture.shapes) drawShape(ink, shape, { left, top, scale });
    },
  };
}

interface Place {
  left: number;
  top: number;
  scale: number;
}

function drawShape(ink: Ink, shape: Shape, { left, top, scale }: Place): void {
  const x = (across: number) => left + across * scale;
  const y = (down: number) => top + down * scale;
  switch (shape.is) {
    case 'box': {
      const { line, dark } = shape;
      return ink.box(x(shape.x), y(shape.y), shape.width * scale, shape.height * scale, {
        line,
        ...(dark === undefined ? {} : { dark }),
      });
    }
    case 'line':
      return ink.line(
        shape.points.map(([across, down]) => [x(across), y(down)] as const),
        shape.line,
        shape.dashed,
      );
    case 'dot':
      return ink.dot(x(shape.x), y(shape.y), shape.radius * scale, shape.dark);
    case 'words': {
      const font = { face: shape.bold === true ? 'bold' : 'regular', size: shape.size * scale } as const;
      const wide = ink.widthOf(shape.words, font);
      const from = { start: 0, middle: wide / 2, end: wide }[shape.anchor];
      return ink.words(shape.words, x(shape.x) - from, y(shape.y), font);
    }
  }
}
