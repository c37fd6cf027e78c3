import type { Type } from '@nestjs/common';
import { CorrectionsApi } from './corrections-controller.js';
import { ImportsApi } from './imports-controller.js';
import { JarsApi } from './jars-controller.js';
import { LogoApi } from './logo-controller.js';
import { LotsApi } from './lots-controller.js';
import { nounControllers } from './nouns.js';
import { OpenApiController } from './openapi-controller.js';
import { CalculatorsApi } from './reckon-controller.js';
import { PhotosApi } from './photos-controller.js';
import { RecordApi } from './record-controller.js';
import { SeasonsApi } from './seasons-controller.js';
import { VoidsApi } from './voids-controller.js';

/** Every controller under /api, in the order of the description. */
export const apiControllers: readonly Type<unknown>[] = [
  ...nounControllers,
  ImportsApi,
  CorrectionsApi,
  VoidsApi,
  LotsApi,
  LogoApi,
  JarsApi,
  SeasonsApi,
  PhotosApi,
  RecordApi,
  CalculatorsApi,
  OpenApiController,
];
