import { SoundTest } from "../components/alarm-sound.tsx";
import { Card } from "../components/card.tsx";
import { Choices } from "../components/field.tsx";
import { Icon } from "../components/icon.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { changeMe, me } from "../data/me.ts";
import { type Theme, theme } from "../data/theme.ts";

const themes: readonly { value: Theme; words: string }[] = [
  { value: "auto", words: "As the device" },
  { value: "light", words: "Light" },
  { value: "dark", words: "Dark" },
];

const others = [
  {
    href: "#messages",
    title: "Messages",
    says: "Who is told when something is wrong, how and when; this device",
  },
  { href: "#nodes", title: "Nodes", says: "What each says, what was refused, channels without a place" },
  {
    href: "#draw",
    title: "Draw the line",
    says: "Its parts, their names and litres, and which channel hangs where",
  },
  { href: "#wall", title: "Wall", says: "For a screen that is read from 3 m" },
  { href: "#people", title: "People", says: "Who may sign in, your password, programs" },
  { href: "#line-file", title: "The line file", says: "Every key that it can hold, explained" },
] as const;

/** The page More: other pages, this device's look and sound, who is signed in. */
export function MorePage() {
  const signedIn = me.value?.signedIn;
  return (
    <PageFrame title="More">
      <ul class="ways">
        {others.map(({ href, title, says }) => (
          <li key={href}>
            <a href={href}>
              <b>{title}</b>
              <span class="soft sm">{says}</span>
              <Icon name="next" />
            </a>
          </li>
        ))}
      </ul>
      <Card title="This device">
        <div class="form">
          <Choices
            label="Light or dark"
            as="segments"
            choices={themes}
            chosen={theme.value}
            choose={(chosen) => {
              theme.value = chosen;
            }}
          />
          <SoundTest />
        </div>
      </Card>
      {signedIn && (
        <Card title={signedIn.name} beside={me.value?.given ? "signed in for the demo" : signedIn.role}>
          {me.value?.given ? (
            <p class="soft sm">Whoever opens this page may act: it is a demo, on this machine only.</p>
          ) : (
            <button type="button" class="btn" onClick={() => void changeMe("sign-out")}>
              Sign out
            </button>
          )}
        </Card>
      )}
    </PageFrame>
  );
}
