import { SoundTest } from "../components/alarm-sound.tsx";
import { Card } from "../components/card.tsx";
import { Choices } from "../components/field.tsx";
import { Icon } from "../components/icon.tsx";
import { PageFrame } from "../components/page-frame.tsx";
import { SettingsForm } from "../components/settings-form.tsx";
import { changeMe, me } from "../data/me.ts";
import { theme } from "../data/theme.ts";
import { roleWords } from "../format/words.ts";
import { w } from "../words/words.ts";

/** Other pages, with what is on them. */
const others = () =>
  [
    { href: "#messages", title: w.frame.messages, says: w.moreWords.messages },
    { href: "#nodes", title: w.frame.nodes, says: w.moreWords.nodes },
    { href: "#draw", title: w.moreWords.draw, says: w.moreWords.drawSays },
    { href: "#wall", title: w.frame.wall, says: w.moreWords.wall },
    { href: "#people", title: w.frame.people, says: w.moreWords.people },
    { href: "#line-file", title: w.moreWords.lineFile, says: w.moreWords.lineFileSays },
  ] as const;

/** The page More: other pages, this device's look and sound, who is signed in. */
export function MorePage() {
  const signedIn = me.value?.signedIn;
  return (
    <PageFrame title={w.frame.more}>
      <ul class="ways">
        {others().map(({ href, title, says }) => (
          <li key={href}>
            <a href={href}>
              <b>{title}</b>
              <span class="soft sm">{says}</span>
              <Icon name="next" />
            </a>
          </li>
        ))}
      </ul>
      <Card title={w.moreWords.thisDevice}>
        <div class="form beside">
          <Choices
            label={w.moreWords.look}
            as="segments"
            choices={(["auto", "light", "dark"] as const).map((value) => ({
              value,
              words: w.moreWords.looks[value],
            }))}
            chosen={theme.value}
            choose={(chosen) => {
              theme.value = chosen;
            }}
          />
          <SoundTest />
        </div>
      </Card>
      <Card title={w.moreWords.wordsAndUnits}>
        <div class="form across">
          <SettingsForm />
        </div>
      </Card>
      {signedIn && (
        <Card title={signedIn.name} beside={me.value?.given ? w.moreWords.demoFor : roleWords(signedIn.role)}>
          {me.value?.given ? (
            <p class="soft sm">{w.moreWords.demoWhat}</p>
          ) : (
            <button type="button" class="btn" onClick={() => void changeMe("sign-out")}>
              {w.door.signOut}
            </button>
          )}
        </Card>
      )}
    </PageFrame>
  );
}
