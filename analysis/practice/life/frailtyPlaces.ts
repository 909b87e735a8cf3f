/** Places of the coordinates: log shape, level = -shape log scale (at mean columns), log variance, then the columns. */
export const LOG_SHAPE = 0;
export const LEVEL = 1;
export const LOG_VARIANCE = 2;
export const FIRST_COLUMN = 3;
