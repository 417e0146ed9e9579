/**
 * Ambient pressure in pascal at an altitude in metres: the standard atmosphere as in the ASHRAE Handbook,
 * Fundamentals (2017), chapter 1, equation 3. Weather moves the true pressure by some 3 % either way.
 */
export const standardPressure = (altitude: number): number => 101325 * (1 - 2.25577e-5 * altitude) ** 5.2559;
