import type { Call } from "./call.ts";
import {
  alarmListSchema,
  deliverySchema,
  deviceSchema,
  messageListSchema,
  notificationsSchema,
  policySetSchema,
  seenLinkSchema,
  seenTokenSchema,
} from "./contract.ts";

/** Calls about who is told, and what was. */
export const notificationCalls: readonly Call[] = [
  {
    method: "get",
    path: "/api/notifications",
    role: "viewer",
    summary: "Destinations with their last delivery and error; the policy",
    answer: notificationsSchema,
  },
  {
    method: "get",
    path: "/api/notifications/messages",
    role: "viewer",
    summary: "What was told, newest first",
    answer: messageListSchema,
    query: { limit: "1 to 1000, default 100" },
  },
  {
    method: "post",
    path: "/api/notifications/policy",
    role: "operator",
    summary: "When people are told again: written into the line file",
    answer: notificationsSchema,
    body: policySetSchema,
  },
  {
    method: "post",
    path: "/api/notifications/{id}/test",
    role: "operator",
    summary: "Sends a test message, and tells what became of it",
    answer: deliverySchema,
  },
  {
    method: "post",
    path: "/api/notifications/devices",
    role: "viewer",
    summary: "This device of the signed-in person takes messages (Web Push)",
    answer: notificationsSchema,
    body: deviceSchema,
  },
  {
    method: "delete",
    path: "/api/notifications/devices/{id}",
    role: "viewer",
    summary: "A device takes no more messages: the own, or any for an operator",
    answer: notificationsSchema,
  },
  {
    method: "post",
    path: "/api/seen/look",
    role: "operator",
    summary: "What a link in a message is for; changes nothing",
    answer: seenLinkSchema,
    body: seenTokenSchema,
  },
  {
    method: "post",
    path: "/api/seen",
    role: "operator",
    summary: "Marks as seen what a link was sent for: once, that occurrence, by the person it was sent to",
    answer: alarmListSchema,
    body: seenTokenSchema,
  },
  {
    method: "post",
    path: "/api/heartbeats/{id}",
    role: "viewer",
    summary: "A heartbeat that the line file expects",
    answer: null,
  },
];
