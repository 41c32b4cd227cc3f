// Made from the file names by `npm run gen`. A rule is named by its file.
import type { Rule } from '../rulebook/rule.ts';
import acceptanceLapsed from './acceptance-lapsed.ts';
import acceptanceOfLaw from './acceptance-of-law.ts';
import acceptanceRuleUnknown from './acceptance-rule-unknown.ts';
import acceptanceUnused from './acceptance-unused.ts';
import acceptanceWithoutCeiling from './acceptance-without-ceiling.ts';
import acceptanceWithoutReason from './acceptance-without-reason.ts';
import aircraftConditionUnstated from './aircraft-condition-unstated.ts';
import aircraftFileFaulty from './aircraft-file-faulty.ts';
import aircraftTooHeavy from './aircraft-too-heavy.ts';
import aircraftUnmarked from './aircraft-unmarked.ts';
import airspaceDataOld from './airspace-data-old.ts';
import altitudeWithoutDatum from './altitude-without-datum.ts';
import antiCollisionLightMissing from './anti-collision-light-missing.ts';
import areaAboveHeightLimit from './area-above-height-limit.ts';
import areaBandReversed from './area-band-reversed.ts';
import areaMeetsGround from './area-meets-ground.ts';
import askedTooLate from './asked-too-late.ts';
import authorisationConditionUnstated from './authorisation-condition-unstated.ts';
import authorisationDatesReversed from './authorisation-dates-reversed.ts';
import automationNotInClass from './automation-not-in-class.ts';
import baseInMotion from './base-in-motion.ts';
import belowHouseClearance from './below-house-clearance.ts';
import belowHouseReserve from './below-house-reserve.ts';
import beyondLinkRange from './beyond-link-range.ts';
import categoryNotForAircraft from './category-not-for-aircraft.ts';
import categoryOfOtherRules from './category-of-other-rules.ts';
import categoryOverPeopleUnmet from './category-over-people-unmet.ts';
import classNotOfAircraft from './class-not-of-aircraft.ts';
import cliffNotResolved from './cliff-not-resolved.ts';
import climbBeyondRate from './climb-beyond-rate.ts';
import cloudNearerThanMinimum from './cloud-nearer-than-minimum.ts';
import competencyLapsed from './competency-lapsed.ts';
import competencyMissing from './competency-missing.ts';
import contingencyLeavesAuthorisedArea from './contingency-leaves-authorised-area.ts';
import contingencyReachesZone from './contingency-reaches-zone.ts';
import countryContradicted from './country-contradicted.ts';
import countryMissing from './country-missing.ts';
import countryWithoutRules from './country-without-rules.ts';
import crewFitnessUnstated from './crew-fitness-unstated.ts';
import crewUnbriefed from './crew-unbriefed.ts';
import crewedTrafficUnstated from './crewed-traffic-unstated.ts';
import dangerousGoodsUnstated from './dangerous-goods-unstated.ts';
import dangerousWeatherReported from './dangerous-weather-reported.ts';
import densityAltitudeAboveLimit from './density-altitude-above-limit.ts';
import documentTooLarge from './document-too-large.ts';
import droppedInOpenCategory from './dropped-in-open-category.ts';
import energyShort from './energy-short.ts';
import flightOutsideWindow from './flight-outside-window.ts';
import flownInFuture from './flown-in-future.ts';
import formatUnknown from './format-unknown.ts';
import gogglesWithoutObserver from './goggles-without-observer.ts';
import greenLightMissing from './green-light-missing.ts';
import groundPermissionAfterFlight from './ground-permission-after-flight.ts';
import groundPermissionMissing from './ground-permission-missing.ts';
import groundRiskClassUnderstated from './ground-risk-class-understated.ts';
import groundSpeedAboveLimit from './ground-speed-above-limit.ts';
import guidelinesUnstated from './guidelines-unstated.ts';
import guyWiresNear from './guy-wires-near.ts';
import heightLimitWithinTerrainError from './height-limit-within-terrain-error.ts';
import hiddenFromPilot from './hidden-from-pilot.ts';
import houseLimitLooser from './house-limit-looser.ts';
import impactEnergyAboveFigure from './impact-energy-above-figure.ts';
import insuranceUnstated from './insurance-unstated.ts';
import involvedUnasked from './involved-unasked.ts';
import itemUnknown from './item-unknown.ts';
import keyMissing from './key-missing.ts';
import keyRepeated from './key-repeated.ts';
import keyUnknown from './key-unknown.ts';
import landUseAreaTooNear from './land-use-area-too-near.ts';
import legAboveHeightLimit from './leg-above-height-limit.ts';
import legBelowObstacleStatement from './leg-below-obstacle-statement.ts';
import legFasterThanAircraft from './leg-faster-than-aircraft.ts';
import legMeetsGround from './leg-meets-ground.ts';
import legWithoutLength from './leg-without-length.ts';
import linkMasked from './link-masked.ts';
import lostLinkUnplanned from './lost-link-unplanned.ts';
import moduleBeyondSight from './module-beyond-sight.ts';
import nameRepeated from './name-repeated.ts';
import nightLightingUnstated from './night-lighting-unstated.ts';
import nightTrainingMissing from './night-training-missing.ts';
import nightWaiverOld from './night-waiver-old.ts';
import numberOutOfRange from './number-out-of-range.ts';
import numberUnreadable from './number-unreadable.ts';
import numberWithoutUnit from './number-without-unit.ts';
import observerNotByVoice from './observer-not-by-voice.ts';
import obstacleDataOld from './obstacle-data-old.ts';
import obstacleStruck from './obstacle-struck.ts';
import offsetFarFromLongitude from './offset-far-from-longitude.ts';
import onePersonForTwoAircraft from './one-person-for-two-aircraft.ts';
import operationNotAuthorised from './operation-not-authorised.ts';
import operationalVolumeNotContained from './operational-volume-not-contained.ts';
import paperLapsesSoon from './paper-lapses-soon.ts';
import pathsMeetAlongside from './paths-meet-alongside.ts';
import patternImpossible from './pattern-impossible.ts';
import peopleDataOld from './people-data-old.ts';
import peopleInFallReach from './people-in-fall-reach.ts';
import peopleInGroundBuffer from './people-in-ground-buffer.ts';
import peopleNearerThanGuidance from './people-nearer-than-guidance.ts';
import peopleNearerThanHouse from './people-nearer-than-house.ts';
import peopleOverflown from './people-overflown.ts';
import peopleTooNear from './people-too-near.ts';
import peopleUnderDrop from './people-under-drop.ts';
import peopleUnstated from './people-unstated.ts';
import photoBlurredBySpeed from './photo-blurred-by-speed.ts';
import photoCoarserThanAsked from './photo-coarser-than-asked.ts';
import photoOverlapShort from './photo-overlap-short.ts';
import pilotAgeUnstated from './pilot-age-unstated.ts';
import pilotUndesignated from './pilot-undesignated.ts';
import placeUnknown from './place-unknown.ts';
import planReused from './plan-reused.ts';
import pointAboveHeightLimit from './point-above-height-limit.ts';
import pointBelowGround from './point-below-ground.ts';
import positionOutOfRange from './position-out-of-range.ts';
import positionSlipped from './position-slipped.ts';
import positionUnreadable from './position-unreadable.ts';
import recognisedAreaLeft from './recognised-area-left.ts';
import recreationWithWork from './recreation-with-work.ts';
import referenceUnreadable from './reference-unreadable.ts';
import registrationLapsed from './registration-lapsed.ts';
import registrationMissing from './registration-missing.ts';
import registrationNumberMalformed from './registration-number-malformed.ts';
import remoteIdentificationMissing from './remote-identification-missing.ts';
import requestNamesNoStructure from './request-names-no-structure.ts';
import reserveBelowPolicy from './reserve-below-policy.ts';
import restrictionEntered from './restriction-entered.ts';
import restrictionsNotLookedUp from './restrictions-not-looked-up.ts';
import returnAboveHeightLimit from './return-above-height-limit.ts';
import returnEnergyShort from './return-energy-short.ts';
import returnEntersZone from './return-enters-zone.ts';
import returnHeightSqueezed from './return-height-squeezed.ts';
import returnMeetsGround from './return-meets-ground.ts';
import returnMeetsObstacle from './return-meets-obstacle.ts';
import returnOverPeople from './return-over-people.ts';
import routeWithoutLanding from './route-without-landing.ts';
import ruleSetOld from './rule-set-old.ts';
import runwayDataOld from './runway-data-old.ts';
import runwayZoneEntered from './runway-zone-entered.ts';
import secretDigitsWritten from './secret-digits-written.ts';
import sectionNotWaivable from './section-not-waivable.ts';
import seenBeyondGuidanceRange from './seen-beyond-guidance-range.ts';
import seenBeyondVisibility from './seen-beyond-visibility.ts';
import serialNumberMalformed from './serial-number-malformed.ts';
import settingsFaulty from './settings-faulty.ts';
import speedAboveHouseLimit from './speed-above-house-limit.ts';
import statementDatedAhead from './statement-dated-ahead.ts';
import switchOffRefused from './switch-off-refused.ts';
import takeOffElevationContradicted from './take-off-elevation-contradicted.ts';
import takeOffInsideBuffer from './take-off-inside-buffer.ts';
import terrainDataOld from './terrain-data-old.ts';
import timeUnreadable from './time-unreadable.ts';
import trackNotHeld from './track-not-held.ts';
import transponderUnstated from './transponder-unstated.ts';
import unitUnknown from './unit-unknown.ts';
import valueOfWrongKind from './value-of-wrong-kind.ts';
import visibilityBelowMinimum from './visibility-below-minimum.ts';
import volumesMeetAlongside from './volumes-meet-alongside.ts';
import waiverConditionUnstated from './waiver-condition-unstated.ts';
import weatherBetterThanReported from './weather-better-than-reported.ts';
import weatherOfAnotherDay from './weather-of-another-day.ts';
import weatherReportUnreadable from './weather-report-unreadable.ts';
import weatherStationFar from './weather-station-far.ts';
import windAboveAircraftLimit from './wind-above-aircraft-limit.ts';
import windAboveHouseLimit from './wind-above-house-limit.ts';
import windowBackwards from './window-backwards.ts';
import windowOver from './window-over.ts';
import windowTooShort from './window-too-short.ts';
import wordUnknown from './word-unknown.ts';
import yamlBroken from './yaml-broken.ts';
import yamlNotPlain from './yaml-not-plain.ts';
import zoneEnteredUnauthorised from './zone-entered-unauthorised.ts';
import zoneNearerThanHouse from './zone-nearer-than-house.ts';

export const RULES: readonly Rule[] = [
  { id: 'acceptance-lapsed', ...acceptanceLapsed },
  { id: 'acceptance-of-law', ...acceptanceOfLaw },
  { id: 'acceptance-rule-unknown', ...acceptanceRuleUnknown },
  { id: 'acceptance-unused', ...acceptanceUnused },
  { id: 'acceptance-without-ceiling', ...acceptanceWithoutCeiling },
  { id: 'acceptance-without-reason', ...acceptanceWithoutReason },
  { id: 'aircraft-condition-unstated', ...aircraftConditionUnstated },
  { id: 'aircraft-file-faulty', ...aircraftFileFaulty },
  { id: 'aircraft-too-heavy', ...aircraftTooHeavy },
  { id: 'aircraft-unmarked', ...aircraftUnmarked },
  { id: 'airspace-data-old', ...airspaceDataOld },
  { id: 'altitude-without-datum', ...altitudeWithoutDatum },
  { id: 'anti-collision-light-missing', ...antiCollisionLightMissing },
  { id: 'area-above-height-limit', ...areaAboveHeightLimit },
  { id: 'area-band-reversed', ...areaBandReversed },
  { id: 'area-meets-ground', ...areaMeetsGround },
  { id: 'asked-too-late', ...askedTooLate },
  { id: 'authorisation-condition-unstated', ...authorisationConditionUnstated },
  { id: 'authorisation-dates-reversed', ...authorisationDatesReversed },
  { id: 'automation-not-in-class', ...automationNotInClass },
  { id: 'base-in-motion', ...baseInMotion },
  { id: 'below-house-clearance', ...belowHouseClearance },
  { id: 'below-house-reserve', ...belowHouseReserve },
  { id: 'beyond-link-range', ...beyondLinkRange },
  { id: 'category-not-for-aircraft', ...categoryNotForAircraft },
  { id: 'category-of-other-rules', ...categoryOfOtherRules },
  { id: 'category-over-people-unmet', ...categoryOverPeopleUnmet },
  { id: 'class-not-of-aircraft', ...classNotOfAircraft },
  { id: 'cliff-not-resolved', ...cliffNotResolved },
  { id: 'climb-beyond-rate', ...climbBeyondRate },
  { id: 'cloud-nearer-than-minimum', ...cloudNearerThanMinimum },
  { id: 'competency-lapsed', ...competencyLapsed },
  { id: 'competency-missing', ...competencyMissing },
  { id: 'contingency-leaves-authorised-area', ...contingencyLeavesAuthorisedArea },
  { id: 'contingency-reaches-zone', ...contingencyReachesZone },
  { id: 'country-contradicted', ...countryContradicted },
  { id: 'country-missing', ...countryMissing },
  { id: 'country-without-rules', ...countryWithoutRules },
  { id: 'crew-fitness-unstated', ...crewFitnessUnstated },
  { id: 'crew-unbriefed', ...crewUnbriefed },
  { id: 'crewed-traffic-unstated', ...crewedTrafficUnstated },
  { id: 'dangerous-goods-unstated', ...dangerousGoodsUnstated },
  { id: 'dangerous-weather-reported', ...dangerousWeatherReported },
  { id: 'density-altitude-above-limit', ...densityAltitudeAboveLimit },
  { id: 'document-too-large', ...documentTooLarge },
  { id: 'dropped-in-open-category', ...droppedInOpenCategory },
  { id: 'energy-short', ...energyShort },
  { id: 'flight-outside-window', ...flightOutsideWindow },
  { id: 'flown-in-future', ...flownInFuture },
  { id: 'format-unknown', ...formatUnknown },
  { id: 'goggles-without-observer', ...gogglesWithoutObserver },
  { id: 'green-light-missing', ...greenLightMissing },
  { id: 'ground-permission-after-flight', ...groundPermissionAfterFlight },
  { id: 'ground-permission-missing', ...groundPermissionMissing },
  { id: 'ground-risk-class-understated', ...groundRiskClassUnderstated },
  { id: 'ground-speed-above-limit', ...groundSpeedAboveLimit },
  { id: 'guidelines-unstated', ...guidelinesUnstated },
  { id: 'guy-wires-near', ...guyWiresNear },
  { id: 'height-limit-within-terrain-error', ...heightLimitWithinTerrainError },
  { id: 'hidden-from-pilot', ...hiddenFromPilot },
  { id: 'house-limit-looser', ...houseLimitLooser },
  { id: 'impact-energy-above-figure', ...impactEnergyAboveFigure },
  { id: 'insurance-unstated', ...insuranceUnstated },
  { id: 'involved-unasked', ...involvedUnasked },
  { id: 'item-unknown', ...itemUnknown },
  { id: 'key-missing', ...keyMissing },
  { id: 'key-repeated', ...keyRepeated },
  { id: 'key-unknown', ...keyUnknown },
  { id: 'land-use-area-too-near', ...landUseAreaTooNear },
  { id: 'leg-above-height-limit', ...legAboveHeightLimit },
  { id: 'leg-below-obstacle-statement', ...legBelowObstacleStatement },
  { id: 'leg-faster-than-aircraft', ...legFasterThanAircraft },
  { id: 'leg-meets-ground', ...legMeetsGround },
  { id: 'leg-without-length', ...legWithoutLength },
  { id: 'link-masked', ...linkMasked },
  { id: 'lost-link-unplanned', ...lostLinkUnplanned },
  { id: 'module-beyond-sight', ...moduleBeyondSight },
  { id: 'name-repeated', ...nameRepeated },
  { id: 'night-lighting-unstated', ...nightLightingUnstated },
  { id: 'night-training-missing', ...nightTrainingMissing },
  { id: 'night-waiver-old', ...nightWaiverOld },
  { id: 'number-out-of-range', ...numberOutOfRange },
  { id: 'number-unreadable', ...numberUnreadable },
  { id: 'number-without-unit', ...numberWithoutUnit },
  { id: 'observer-not-by-voice', ...observerNotByVoice },
  { id: 'obstacle-data-old', ...obstacleDataOld },
  { id: 'obstacle-struck', ...obstacleStruck },
  { id: 'offset-far-from-longitude', ...offsetFarFromLongitude },
  { id: 'one-person-for-two-aircraft', ...onePersonForTwoAircraft },
  { id: 'operation-not-authorised', ...operationNotAuthorised },
  { id: 'operational-volume-not-contained', ...operationalVolumeNotContained },
  { id: 'paper-lapses-soon', ...paperLapsesSoon },
  { id: 'paths-meet-alongside', ...pathsMeetAlongside },
  { id: 'pattern-impossible', ...patternImpossible },
  { id: 'people-data-old', ...peopleDataOld },
  { id: 'people-in-fall-reach', ...peopleInFallReach },
  { id: 'people-in-ground-buffer', ...peopleInGroundBuffer },
  { id: 'people-nearer-than-guidance', ...peopleNearerThanGuidance },
  { id: 'people-nearer-than-house', ...peopleNearerThanHouse },
  { id: 'people-overflown', ...peopleOverflown },
  { id: 'people-too-near', ...peopleTooNear },
  { id: 'people-under-drop', ...peopleUnderDrop },
  { id: 'people-unstated', ...peopleUnstated },
  { id: 'photo-blurred-by-speed', ...photoBlurredBySpeed },
  { id: 'photo-coarser-than-asked', ...photoCoarserThanAsked },
  { id: 'photo-overlap-short', ...photoOverlapShort },
  { id: 'pilot-age-unstated', ...pilotAgeUnstated },
  { id: 'pilot-undesignated', ...pilotUndesignated },
  { id: 'place-unknown', ...placeUnknown },
  { id: 'plan-reused', ...planReused },
  { id: 'point-above-height-limit', ...pointAboveHeightLimit },
  { id: 'point-below-ground', ...pointBelowGround },
  { id: 'position-out-of-range', ...positionOutOfRange },
  { id: 'position-slipped', ...positionSlipped },
  { id: 'position-unreadable', ...positionUnreadable },
  { id: 'recognised-area-left', ...recognisedAreaLeft },
  { id: 'recreation-with-work', ...recreationWithWork },
  { id: 'reference-unreadable', ...referenceUnreadable },
  { id: 'registration-lapsed', ...registrationLapsed },
  { id: 'registration-missing', ...registrationMissing },
  { id: 'registration-number-malformed', ...registrationNumberMalformed },
  { id: 'remote-identification-missing', ...remoteIdentificationMissing },
  { id: 'request-names-no-structure', ...requestNamesNoStructure },
  { id: 'reserve-below-policy', ...reserveBelowPolicy },
  { id: 'restriction-entered', ...restrictionEntered },
  { id: 'restrictions-not-looked-up', ...restrictionsNotLookedUp },
  { id: 'return-above-height-limit', ...returnAboveHeightLimit },
  { id: 'return-energy-short', ...returnEnergyShort },
  { id: 'return-enters-zone', ...returnEntersZone },
  { id: 'return-height-squeezed', ...returnHeightSqueezed },
  { id: 'return-meets-ground', ...returnMeetsGround },
  { id: 'return-meets-obstacle', ...returnMeetsObstacle },
  { id: 'return-over-people', ...returnOverPeople },
  { id: 'route-without-landing', ...routeWithoutLanding },
  { id: 'rule-set-old', ...ruleSetOld },
  { id: 'runway-data-old', ...runwayDataOld },
  { id: 'runway-zone-entered', ...runwayZoneEntered },
  { id: 'secret-digits-written', ...secretDigitsWritten },
  { id: 'section-not-waivable', ...sectionNotWaivable },
  { id: 'seen-beyond-guidance-range', ...seenBeyondGuidanceRange },
  { id: 'seen-beyond-visibility', ...seenBeyondVisibility },
  { id: 'serial-number-malformed', ...serialNumberMalformed },
  { id: 'settings-faulty', ...settingsFaulty },
  { id: 'speed-above-house-limit', ...speedAboveHouseLimit },
  { id: 'statement-dated-ahead', ...statementDatedAhead },
  { id: 'switch-off-refused', ...switchOffRefused },
  { id: 'take-off-elevation-contradicted', ...takeOffElevationContradicted },
  { id: 'take-off-inside-buffer', ...takeOffInsideBuffer },
  { id: 'terrain-data-old', ...terrainDataOld },
  { id: 'time-unreadable', ...timeUnreadable },
  { id: 'track-not-held', ...trackNotHeld },
  { id: 'transponder-unstated', ...transponderUnstated },
  { id: 'unit-unknown', ...unitUnknown },
  { id: 'value-of-wrong-kind', ...valueOfWrongKind },
  { id: 'visibility-below-minimum', ...visibilityBelowMinimum },
  { id: 'volumes-meet-alongside', ...volumesMeetAlongside },
  { id: 'waiver-condition-unstated', ...waiverConditionUnstated },
  { id: 'weather-better-than-reported', ...weatherBetterThanReported },
  { id: 'weather-of-another-day', ...weatherOfAnotherDay },
  { id: 'weather-report-unreadable', ...weatherReportUnreadable },
  { id: 'weather-station-far', ...weatherStationFar },
  { id: 'wind-above-aircraft-limit', ...windAboveAircraftLimit },
  { id: 'wind-above-house-limit', ...windAboveHouseLimit },
  { id: 'window-backwards', ...windowBackwards },
  { id: 'window-over', ...windowOver },
  { id: 'window-too-short', ...windowTooShort },
  { id: 'word-unknown', ...wordUnknown },
  { id: 'yaml-broken', ...yamlBroken },
  { id: 'yaml-not-plain', ...yamlNotPlain },
  { id: 'zone-entered-unauthorised', ...zoneEnteredUnauthorised },
  { id: 'zone-nearer-than-house', ...zoneNearerThanHouse },
];
