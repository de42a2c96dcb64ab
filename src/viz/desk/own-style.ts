/** Stands between the style of all pages and the desk's own, so that a document the desk writes carries the former alone. */
export const OWN_STYLE = '/*! the desk */';
