import { type BrokerRefusalCode, brokerRefusals } from "../broker/index.ts";
import { type RejectionCode, rejections } from "../readings/index.ts";
import { type InfluxCode, influxOutcomes } from "../series/index.ts";
import { type CodeText, germanCodes, type Language } from "../words/index.ts";
import { ofAccounts } from "./account-problems.ts";
import { ofNodes } from "./node-problems.ts";

/** Problems that only an HTTP caller meets. */
const own = {
  ...ofAccounts,
  ...ofNodes,
  "sign-in-needed": {
    status: 401,
    title: "This needs a session or a token",
    todo: "POST /api/sign-in, or send Authorization: Bearer TOKEN.",
  },
  "account-needed": {
    status: 403,
    title: "Make the first account first",
    todo: "Make it on the page with the printed code, or by drumlin user add NAME.",
  },
  "role-not-enough": { status: 403, title: "You can look, not change", todo: "Ask an operator." },
  "not-found": { status: 404, title: "There is nothing here", todo: "See /api/docs." },
  "point-unknown": {
    status: 404,
    title: "The line has no such point or drum",
    todo: "GET /api/line lists them.",
  },
  "no-such-alarm": {
    status: 404,
    title: "That alarm has ended meanwhile",
    todo: "GET /api/alarms lists what stands.",
  },
  "occurrence-changed": {
    status: 409,
    title: "It ended and came back while you looked",
    todo: "Check the new one.",
  },
  "not-possible-in-state": {
    status: 409,
    title: "The act changes nothing in this state",
    todo: "Look at the alarm's state.",
  },
  "body-not-understood": {
    status: 400,
    title: "The body is not what this call takes",
    todo: "See /api/docs.",
  },
  "query-not-understood": {
    status: 400,
    title: "A parameter is not what this call takes",
    todo: "See /api/docs.",
  },
  "origin-not-allowed": {
    status: 403,
    title: "The request came from another site's page",
    todo: "Use the gateway's own page.",
  },
  "host-not-allowed": {
    status: 403,
    title: "The Host header names another machine",
    todo: "Open the page by its loopback address until an account exists.",
  },
  "line-file-changed": {
    status: 409,
    title: "Somebody else changed the line meanwhile",
    todo: "Load it again, then change it.",
  },
  "line-file-faulty": {
    status: 422,
    title: "The line file can't be used as it is",
    todo: "POST /api/line/check tells each fault with its line and what to write instead.",
  },
  "line-file-of-another-site": {
    status: 422,
    title: "The line file names another site",
    todo: "One data folder belongs to one site.",
  },
  "line-file-not-usable": {
    status: 503,
    title: "The line file can't be read or written",
    todo: "Look at the file and its folder: the gateway must be able to write there.",
  },
  "no-line-file": {
    status: 409,
    title: "This line did not come from a file",
    todo: "Start with --line FILE.",
  },
  "no-such-drum": { status: 404, title: "The line has no such drum", todo: "GET /api/line lists them." },
  "no-such-floor": {
    status: 404,
    title: "The line has no such floor sensor",
    todo: "The line file lists them under floors.",
  },
  "no-such-point": { status: 404, title: "The line has no such point", todo: "GET /api/line lists them." },
  "no-such-stage": { status: 404, title: "The line has no such stage", todo: "GET /api/line lists them." },
  "no-such-place": {
    status: 404,
    title: "The line has no such place for a channel",
    todo: "GET /api/line/drawing lists them.",
  },
  "place-taken": {
    status: 409,
    title: "Another channel stands at that place",
    todo: "Name it under instead, when it is to be replaced.",
  },
  "unit-does-not-fit": {
    status: 422,
    title: "The channel says something else than the place is for",
    todo: "Choose one of the places under fits in GET /api/line/drawing.",
  },
  "no-such-float": { status: 404, title: "The drum has no such float", todo: "GET /api/line lists them." },
  "no-such-fill": { status: 404, title: "No fill has that id", todo: "GET /api/fills lists them." },
  "no-such-destination": {
    status: 404,
    title: "There is no such destination",
    todo: "GET /api/notifications lists them.",
  },
  "no-such-heartbeat": {
    status: 404,
    title: "The line file expects no such heartbeat",
    todo: "Name it under expects: in the line file.",
  },
  "person-needed": {
    status: 403,
    title: "Only a person can do this",
    todo: "Sign in with an account of your own.",
  },
  "link-not-usable": {
    status: 410,
    title: "This link can't be used",
    todo: "Look at the alarm on the page: it can be marked as seen there.",
  },
  "devices-too-many": {
    status: 409,
    title: "No room for another device",
    todo: "Remove one nobody uses.",
  },
  "subscription-not-usable": {
    status: 400,
    title: "Nothing can be sent with these keys",
    todo: "Let the browser subscribe anew.",
  },
  "push-service-not-known": {
    status: 400,
    title: "This push service is not named",
    todo: "Name its host in the line file under notify: push_hosts, if it is meant.",
  },
  "no-such-night": {
    status: 404,
    title: "There is no such night yet",
    todo: "GET /api/nights lists them.",
  },
  "calibration-not-usable": {
    status: 422,
    title: "These points give no usable line",
    todo: "Enter one standard, or two that lie apart, for example 84 and 1413 µS/cm with the probe's reading of each; a zero in air only beside a standard.",
  },
  "act-not-known": {
    status: 409,
    title: "The act can't be read",
    todo: "A newer version wrote it: start that one.",
  },
  "act-failed": {
    status: 500,
    title: "The act could not be carried out",
    todo: "It is on record. See the gateway's log, and report it.",
  },
  "act-not-written-yet": {
    status: 503,
    title: "The act was taken and is not yet written down",
    todo: "Look at the gateway's disk; look again before you enter it a second time.",
  },
  "formula-unknown": {
    status: 404,
    title: "There is no such formula",
    todo: "GET /api/compute lists them.",
  },
  "input-not-understood": {
    status: 400,
    title: "An input of the formula is missing, of another kind, or not one of its own",
    todo: "GET /api/compute tells each formula's inputs, units and ranges.",
  },
  "out-of-range": {
    status: 400,
    title: "An input lies outside the range in which the formula holds",
    todo: "The detail names the input and its range.",
  },
  "unit-mismatch": {
    status: 400,
    title: "A unit is not known, or of another kind than the input's",
    todo: "Give the number in the input's own unit.",
  },
  "body-too-large": { status: 413, title: "The body is over 64 KiB", todo: "Send less." },
  "not-json": { status: 415, title: "The body is not JSON", todo: "Send content-type: application/json." },
  "request-broken": {
    status: 400,
    title: "What came is no HTTP request",
    todo: "Look at the program that sent it.",
  },
  "headers-too-long": {
    status: 431,
    title: "The headers are over 16 KiB",
    todo: "Send fewer, or clear cookies.",
  },
  "request-too-slow": {
    status: 408,
    title: "The request did not come within 30 s",
    todo: "Try again; look at the network.",
  },
  "connections-too-many": {
    status: 503,
    title: "A connection was ended to make room for others",
    todo: "Look at who opens so many connections from that address.",
  },
  "pipelined-too-many": {
    status: 429,
    title: "Over 8 requests came on one connection before their answers were read",
    todo: "Read an answer before asking again.",
  },
  "answers-unread": {
    status: 408,
    title: "Answers were not read, and the connection was ended",
    todo: "Read answers as they come.",
  },
  "requests-too-many": {
    status: 429,
    title: "Too many requests of one person, program or address are under way",
    todo: "Wait for an answer before asking again.",
  },
  "work-too-long": {
    status: 422,
    title: "The work takes longer than one request may",
    todo: "Ask for less: fewer values, a shorter line file.",
  },
  "work-too-much": {
    status: 429,
    title: "Too much work waits already",
    todo: "Wait for the answer to the last request, then try again.",
  },
  "too-many-streams": {
    status: 503,
    title: "Too many pages are open at once",
    todo: "Close one.",
  },
  "not-ready": {
    status: 503,
    title: "The gateway is starting or stopping",
    todo: "Try again in a few seconds.",
  },
  "journal-full": {
    status: 503,
    title: "The gateway's disk is too slow",
    todo: "Try again; look at the disk.",
  },
  "journal-failed": {
    status: 503,
    title: "The gateway can't write to its disk",
    todo: "Look at the disk, then start again.",
  },
  "journal-closed": {
    status: 503,
    title: "The gateway is stopping",
    todo: "Try again after it has started.",
  },
  internal: {
    status: 500,
    title: "Something went wrong in the gateway",
    todo: "It is in its log: report it.",
  },
} as const;

/** Codes of HTTP problems. */
export type ProblemCode = keyof typeof own;

/** Status, title and remedy of an HTTP problem. */
export const problems: Readonly<
  Record<ProblemCode, { readonly status: number; readonly title: string; readonly todo: string }>
> = own;

type EveryCode = RejectionCode | BrokerRefusalCode | InfluxCode | ProblemCode;
const english: Readonly<Record<EveryCode, CodeText>> = {
  ...rejections,
  ...brokerRefusals,
  ...influxOutcomes,
  ...own,
};

/** The one registry: every stable code of the gateway with its meaning and what to do, in each language. */
export const everyCodeIn: Readonly<Record<Language, Readonly<Record<EveryCode, CodeText>>>> = {
  en: english,
  // A code that has no words in `words/de/codes` fails the build here.
  de: germanCodes,
};

/** The same in English, for programs and documents. */
export const everyCode: Readonly<Record<string, CodeText>> = english;
