/** A line with a floor, and everybody who is told: two people, a sounder, the broker, two webhooks, a heartbeat. */
export const personsLine = (mailPort: number, pingPort: number): string => `drumlin: 1
site: saltmarsh-house
title: Saltmarsh House
points: { supply: { conductivity: press/ec-1 } }
floors: { press-room: press/floor }
sounders: { hall: { channel: press/horn } }
notify:
  page: https://house.example
  mail: { server: 127.0.0.1, port: ${mailPort}, user: drumlin, from: drumlin@example.org }
  to:
    mara: { mail: mara@example.org, person: Mara }
    jonas: { mail: jonas@example.org, turn: second, takes: wake }
    horn: { sounder: hall, takes: wake }
    house: { mqtt: calls }
    away: { webhook: "https://127.0.0.1:1/token/abc" }
    relay: { webhook: { url: "https://127.0.0.1:1/{secret:relay-topic}", allow_private: true }, takes: wake }
  heartbeat: { get: "http://127.0.0.1:${pingPort}/ping/{secret:ping-key}", mqtt: true, every: 1 s, allow_private: true }
expects: { copies: { every: 1 d } }
`;
