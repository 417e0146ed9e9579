/** Constants that are exact by definition. */

/** Standard acceleration of free fall, m/s² (third CGPM, 1901). */
export const STANDARD_GRAVITY = 9.80665;
/** 0 °C in kelvin. */
export const ZERO_CELSIUS = 273.15;
