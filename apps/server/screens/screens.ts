import type { Type } from '@nestjs/common';
import { GuestController } from './guest/guest-controller.js';
import { PracticeController } from './practice/practice-controller.js';
import { SetUpController } from './set-up/set-up-controller.js';
import { SignInController } from './sign-in/sign-in-controller.js';
import { HealthController } from '../http/health-controller.js';
import { OwnPasswordController } from './account/own-password-controller.js';
import { PeopleController } from './people/people-controller.js';
import { TodayController } from './today/today-controller.js';
import { SapController } from './sap/sap-controller.js';
import { BoilsController } from './boils/boils-controller.js';
import { PacksController } from './packs/packs-controller.js';
import { LotsController } from './lots/lots-controller.js';
import { statusChangeController } from './lots/status-change-controller.js';
import { DisposalController } from './disposal/disposal-controller.js';
import { DispatchesController } from './dispatches/dispatches-controller.js';
import { RecordsController } from './records/records-controller.js';
import { TraceController } from './trace/trace-controller.js';
import { LabelsController } from './labels/labels-controller.js';
import { PrintController } from './labels/print-controller.js';
import { FindController } from './find/find-controller.js';
import { PlacesController } from './places/places-controller.js';
import { CalculatorsController } from './calculators/calculators-controller.js';
import { SeasonController } from './season/season-controller.js';
import { HistoryController } from './history/history-controller.js';
import { SupportingRecordsController } from './supporting-records/supporting-records-controller.js';
import { LogoController } from './house/logo-controller.js';
import { StoryPhotoController } from './house/story-photo-controller.js';
import { HouseController } from './house/house-controller.js';
import { HydrometerController } from './house/hydrometer-controller.js';
import { AccountController } from './account/account-controller.js';
import { FilesController } from './files/files-controller.js';
import { HousesController } from './houses/houses-controller.js';
import { StocksController } from './stocks/stocks-controller.js';
import { EventNamesController } from './event-names/event-names-controller.js';
import { PaperSheetsController } from './paper-sheets/paper-sheets-controller.js';
import { CustomerReportsController } from './returns/customer-reports-controller.js';
import { ReturnsController } from './returns/returns-controller.js';
import { ReportController } from './public-jar-page/report-controller.js';
import { MockRecallController } from './recall/mock-recall-controller.js';
import { BackupsController } from './backups/backups-controller.js';
import { PhotosController } from './photos/photos-controller.js';
import { TrustController } from './trust/trust-controller.js';
import { UndoController } from './undo/undo-controller.js';
import { CallsController } from './recall/calls-controller.js';
import { RecallController } from './recall/recall-controller.js';

/** Every controller of the pages; a new screen is a line here and a folder beside this file. */
export const screens: readonly Type<unknown>[] = [
  HealthController,
  SetUpController,
  SignInController,
  GuestController,
  PracticeController,
  PeopleController,
  OwnPasswordController,
  TodayController,
  SapController,
  BoilsController,
  PacksController,
  LotsController,
  statusChangeController('hold'),
  statusChangeController('release'),
  statusChangeController('recall'),
  DisposalController,
  DispatchesController,
  RecordsController,
  TraceController,
  LabelsController,
  PrintController,
  LogoController,
  StoryPhotoController,
  StocksController,
  FindController,
  PlacesController,
  CalculatorsController,
  SeasonController,
  HistoryController,
  SupportingRecordsController,
  HouseController,
  HydrometerController,
  AccountController,
  FilesController,
  PaperSheetsController,
  EventNamesController,
  HousesController,
  ReturnsController,
  CustomerReportsController,
  ReportController,
  RecallController,
  CallsController,
  MockRecallController,
  UndoController,
  TrustController,
  BackupsController,
  PhotosController,
];
