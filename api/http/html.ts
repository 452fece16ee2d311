/** The type of a page. */
export const HTML = 'text/html; charset=utf-8';

/**
 * Headers of a page. It is made of what people typed: it runs nothing and loads nothing, stands in no frame, sends no form
 * and leads no link astray (Content Security Policy Level 3, §6).
 */
export const INERT = {
  'content-security-policy':
    "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
};
