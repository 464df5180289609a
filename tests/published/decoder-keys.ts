/**
 * Every key of the decoder's flat answer that an open client knows: published (npm @shaggytools/nhtsa-api-wrapper 3.0.4,
 * MIT, type DecodeVinValuesResults). The client itself is no dependency, because its installation refuses npm.
 */
export const DECODER_KEYS: readonly string[] = `
ABS ActiveSafetySysNote AdaptiveCruiseControl AdaptiveDrivingBeam AdaptiveHeadlights AdditionalErrorText
AirBagLocCurtain AirBagLocFront AirBagLocKnee AirBagLocSeatCushion AirBagLocSide AutoReverseSystem
AutomaticPedestrianAlertingSound AxleConfiguration Axles BasePrice BatteryA BatteryA_to BatteryCells
BatteryInfo BatteryKWh BatteryKWh_to BatteryModules BatteryPacks BatteryType BatteryV BatteryV_to
BedLengthIN BedType BlindSpotIntervention BlindSpotMon BodyCabType BodyClass BrakeSystemDesc
BrakeSystemType BusFloorConfigType BusLength BusType CAN_AACN CIB CashForClunkers ChargerLevel
ChargerPowerKW CoolingType CurbWeightLB CustomMotorcycleType DaytimeRunningLight DestinationMarket
DisplacementCC DisplacementCI DisplacementL Doors DriveType DriverAssist DynamicBrakeSupport EDR ESC
EVDriveUnit ElectrificationLevel EngineConfiguration EngineCycles EngineCylinders EngineHP EngineHP_to
EngineKW EngineManufacturer EngineModel EntertainmentSystem ErrorCode ErrorText ForwardCollisionWarning
FuelInjectionType FuelTypePrimary FuelTypeSecondary GCWR GCWR_to GVWR GVWR_to KeylessIgnition
LaneCenteringAssistance LaneDepartureWarning LaneKeepSystem LowerBeamHeadlampLightSource Make MakeID
Manufacturer ManufacturerId Model ModelID ModelYear MotorcycleChassisType MotorcycleSuspensionType
NCSABodyType NCSAMake NCSAMapExcApprovedBy NCSAMapExcApprovedOn NCSAMappingException NCSAModel NCSANote
NonLandUse Note OtherBusInfo OtherEngineInfo OtherMotorcycleInfo OtherRestraintSystemInfo OtherTrailerInfo
ParkAssist PedestrianAutomaticEmergencyBraking PlantCity PlantCompanyName PlantCountry PlantState
PossibleValues Pretensioner RearAutomaticEmergencyBraking RearCrossTrafficAlert RearVisibilitySystem
SAEAutomationLevel SAEAutomationLevel_to SeatBeltsAll SeatRows Seats SemiautomaticHeadlampBeamSwitching
Series Series2 SteeringLocation SuggestedVIN TPMS TopSpeedMPH TrackWidth TractionControl TrailerBodyType
TrailerLength TrailerType TransmissionSpeeds TransmissionStyle Trim Trim2 Turbo VIN ValveTrainDesign
VehicleDescriptor VehicleType WheelBaseLong WheelBaseShort WheelBaseType WheelSizeFront WheelSizeRear
Wheels Windows
`
  .trim()
  .split(/\s+/);

/** Keys that the client does not know, and that a printed answer of June 2026 has: the decoder gains keys. */
export const NEWER_KEYS: readonly string[] = [
  "CombinedBrakingSystem",
  "FuelTankMaterial",
  "FuelTankType",
  "WheelieMitigation",
];
