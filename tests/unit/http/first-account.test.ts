import { describe, expect, it } from "vitest";
import { freshAccounts, mara, post } from "./fresh-accounts.ts";

const { accounts, start } = freshAccounts();
const codeOf = async (answer: Response) => ((await answer.json()) as { code: string }).code;

describe("until the first account exists", () => {
  it("on this machine everybody looks and nobody acts", async () => {
    const port = await start();
    expect((await fetch(`http://127.0.0.1:${port}/api/alarms`)).status).toBe(200);
    expect(await (await fetch(`http://127.0.0.1:${port}/api/me`)).json()).toEqual({
      signedIn: null,
      setUp: true,
      plain: false,
      given: false,
      settings: null,
    });
    const refused = await post(port, "/api/people", { ...mara, role: "operator" });
    expect([refused.status, await codeOf(refused)]).toEqual([403, "account-needed"]);
  });

  it("the code makes one account, once, and signs in; then nothing is open", async () => {
    const port = await start();
    const code = accounts().newSetUpCode();
    expect(code).toMatch(/^([A-HJ-NP-Z2-9]{4}-){3}[A-HJ-NP-Z2-9]{4}$/);
    const wrong = await post(port, "/api/set-up", { code: "AAAA-AAAA-AAAA-AAAA", ...mara });
    expect([wrong.status, await codeOf(wrong)]).toEqual([403, "set-up-code-wrong"]);
    const short = await post(port, "/api/set-up", { code, name: "Mara", password: "short" });
    expect([short.status, await codeOf(short)]).toEqual([400, "password-not-usable"]);
    const done = await post(port, "/api/set-up", { code: code.toLowerCase().replaceAll("-", " "), ...mara });
    expect(await done.json()).toMatchObject({ signedIn: { name: "Mara", role: "operator" }, setUp: false });
    const [cookie = ""] = done.headers.getSetCookie();
    expect(cookie).toMatch(/^drumlin-0=[\w-]{43}; Path=\/; Max-Age=7776000; HttpOnly; SameSite=Strict$/);
    const again = await post(port, "/api/set-up", { code, name: "Jonas", password: "brackish evenings" });
    expect([again.status, await codeOf(again)]).toEqual([409, "set-up-done"]);
    expect((await fetch(`http://127.0.0.1:${port}/api/alarms`)).status).toBe(401);
    const headers = { cookie: cookie.split(";")[0] as string };
    expect((await fetch(`http://127.0.0.1:${port}/api/alarms`, { headers })).status).toBe(200);
    expect((await post(port, "/api/sign-out", {}, headers)).headers.get("set-cookie")).toContain("Max-Age=0");
    expect((await fetch(`http://127.0.0.1:${port}/api/alarms`, { headers })).status).toBe(401);
  });

  it("two at once with the right code make one account", async () => {
    const port = await start();
    const code = accounts().newSetUpCode();
    const answers = await Promise.all(
      ["Mara", "Jonas"].map((name) => post(port, "/api/set-up", { code, name, password: mara.password })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect(accounts().people.list()).toHaveLength(1);
  });

  it("a page of another name that resolves to this machine reads nothing", async () => {
    const port = await start();
    const { request } = await import("node:http");
    const status = await new Promise((resolve) =>
      request(
        { host: "127.0.0.1", port, path: "/api/line", headers: { host: "elsewhere.example" } },
        (answer) => {
          answer.resume();
          resolve(answer.statusCode);
        },
      ).end(),
    );
    expect(status).toBe(403);
  });

  // 127.2 is 127.0.0.2 to the system, and no loopback name to the gateway: the network's side, without a network.
  it.runIf(process.platform === "linux")("only loopback is listened to; then the asked address", async () => {
    const said: string[] = [];
    const port = await start({ host: "127.2", plainHttp: true, log: (message) => said.push(message) });
    const reach = (host: string) =>
      fetch(`http://${host}:${port}/healthz`).then(
        ({ status }) => status,
        () => "refused",
      );
    expect([await reach("127.0.0.1"), await reach("127.0.0.2")]).toEqual([200, "refused"]);
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    await expect.poll(() => said).toEqual([`http: the first account exists, now listening on 127.2:${port}`]);
    await expect
      .poll(async () => [await reach("127.0.0.1"), await reach("127.0.0.2")])
      .toEqual(["refused", 200]);
    const me = await (await fetch(`http://127.0.0.2:${port}/api/me`)).json();
    expect(me).toMatchObject({ plain: true, setUp: false });
  });

  it("another address without TLS is refused unless it is said to be on purpose", async () => {
    await expect(start({ host: "192.0.2.1" })).rejects.toThrow("--plain-http");
    await expect(
      start({
        host: "192.0.2.1",
        plainHttp: true,
        signedIn: { kind: "person", name: "keeper", role: "operator" },
      }),
    ).rejects.toThrow("loopback only");
  });
});

describe("guessing a password", () => {
  it("is slowed after five tries, also for the right one, with the time to wait", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const tries = [];
    for (let number = 0; number < 7; number += 1)
      tries.push(
        (await post(port, "/api/sign-in", { name: "mara", password: `guess number ${number}` })).status,
      );
    expect(tries).toEqual([401, 401, 401, 401, 401, 429, 429]);
    const right = await post(port, "/api/sign-in", mara);
    expect(right.status).toBe(429);
    expect(Number(right.headers.get("retry-after"))).toBeGreaterThan(30);
    expect(Number(right.headers.get("retry-after"))).toBeLessThanOrEqual(60);
  });

  it("a device on which somebody has signed in goes on while a stranger guesses from the same address", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const [, device = ""] = (await post(port, "/api/sign-in", mara)).headers.getSetCookie();
    expect(device).toMatch(
      /^drumlin-device-0=[\w-]{43}; Path=\/; Max-Age=34560000; HttpOnly; SameSite=Strict$/,
    );
    for (let number = 0; number < 6; number += 1)
      await post(port, "/api/sign-in", { name: "Mara", password: `guess number ${number}` });
    expect((await post(port, "/api/sign-in", mara)).status).toBe(429);
    expect((await post(port, "/api/sign-in", mara, { cookie: device.split(";")[0] as string })).status).toBe(
      200,
    );
    // It is no session.
    const people = await fetch(`http://127.0.0.1:${port}/api/people`, {
      headers: { cookie: device.split(";")[0] as string },
    });
    expect(people.status).toBe(401);
  });

  it("many at once get no more tries than one after the other", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const answers = await Promise.all(
      Array.from({ length: 12 }, (_, number) =>
        post(port, "/api/sign-in", { name: "Mara", password: `guess number ${number}` }),
      ),
    );
    expect(answers.filter(({ status }) => status === 401)).toHaveLength(5);
    expect(answers.filter(({ status }) => status === 429)).toHaveLength(7);
  });

  it("says the same of a wrong password and of nobody", async () => {
    await accounts().people.add({ ...mara, role: "operator", by: "test" });
    const port = await start();
    const wrong = await (
      await post(port, "/api/sign-in", { name: "Mara", password: "no such thing" })
    ).json();
    const nobody = await (
      await post(port, "/api/sign-in", { name: "Ines", password: "no such thing" })
    ).json();
    expect(nobody).toEqual(wrong);
  });
});
