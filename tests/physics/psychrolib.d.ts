declare module "psychrolib" {
  interface Psychrometrics {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    GetSatVapPres(celsius: number): number;
    GetTDewPointFromRelHum(celsius: number, humidity: number): number;
    GetTWetBulbFromRelHum(celsius: number, humidity: number, pressure: number): number;
    GetHumRatioFromRelHum(celsius: number, humidity: number, pressure: number): number;
    GetHumRatioFromTWetBulb(celsius: number, wetBulb: number, pressure: number): number;
    GetMoistAirVolume(celsius: number, ratio: number, pressure: number): number;
    GetMoistAirEnthalpy(celsius: number, ratio: number): number;
    GetStandardAtmPressure(altitude: number): number;
  }
  const psychrolib: Psychrometrics;
  export default psychrolib;
}
