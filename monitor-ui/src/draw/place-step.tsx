import type { LineDrawing, LineView } from "@drumlin/gateway/contract";
import { useRef, useState } from "preact/hooks";
import { Field } from "../components/field.tsx";
import { Sheet } from "../components/sheet.tsx";
import { ActAnswer, useActs } from "../components/use-acts.tsx";
import { change, placeChannel } from "../data/drawing.ts";
import { titleOf } from "../data/state.ts";
import { asSet, numberOf } from "../format/numbers.ts";
import { rawWords } from "../format/raw-words.ts";
import { volume } from "../format/units.ts";
import { say, w } from "../words/words.ts";
import { Drawing } from "./drawing.tsx";
import type { Edit } from "./rows.ts";
import { roleWords } from "./words.ts";

type Place = LineDrawing["places"][number];
type Heard = LineDrawing["heard"][number];

/** How deep a full drum is, and how many litres that are. */
interface Full {
  readonly fullM: number;
  readonly volumeL: number;
}

/** What a channel says now, as it came. */
function rawOf(line: LineView, channel: string): string {
  const found = line.nodes.flatMap(({ unassigned }) => unassigned).find((one) => one.channel === channel);
  if (!found) return "";
  const isContact = found.unit === null && (found.value === 0 || found.value === 1);
  return isContact
    ? found.value === 1
      ? w.draw.contactClosed
      : w.draw.contactOpen
    : rawWords(found.value, found.unit);
}

const nameOf = ({ of, role }: Place) =>
  of.kind === "floor" ? w.draw.roles.floor : `${titleOf(of.id)}, ${roleWords(role)}`;

/** Where the file may name the channel of a place: a stop float stands by itself or among the floats. */
const cleared = ({ place, of, role }: Place): Edit[] => [
  { at: place.split("/"), to: null },
  ...(of.kind === "drum" && role === "stop" ? [{ at: ["drums", of.id, "floats", "stop"], to: null }] : []),
];

/** Whether a drum's level needs to be told how deep the drum is: what says litres does not. */
const needsDepth = ({ of, role, channel }: Place, unit: string | null) =>
  of.kind === "drum" && role === "level" && channel === null && (unit === "m" || unit === "Pa");

/** A table of straight sides. */
const straight = ({ fullM, volumeL }: Full) => ({ "0 m": "0 L", [`${fullM} m`]: `${volumeL} L` });

/** Asks how deep the water of a full drum stands, and says what the channel's value is in litres then. */
function DepthSheet(props: {
  readonly title: string;
  readonly heard: Heard;
  readonly volumeL: number;
  readonly onDone: (full: Full) => void;
  readonly onClose: () => void;
}) {
  const { title, heard, volumeL, onDone, onClose } = props;
  const [text, type] = useState("");
  const [problem, complain] = useState("");
  const fullCm = numberOf(text);
  const isKnown = fullCm !== null && fullCm > 0 && fullCm <= 1000;
  const shown = heard.unit === "m" && isKnown && volume((heard.value / fullCm) * 100 * volumeL);
  return (
    <Sheet title={title} onClose={onClose}>
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          if (isKnown) onDone({ fullM: fullCm / 100, volumeL });
          else complain(w.draw.depthProblem);
        }}
      >
        <Field label={w.draw.depthFull} hint={say(w.draw.whyDepth, { litres: asSet(volumeL) })}>
          <input
            inputMode="decimal"
            value={text}
            onInput={({ currentTarget }) => {
              complain("");
              type(currentTarget.value);
            }}
          />
        </Field>
        <p class="answer" role="status">
          {problem || (shown && `${rawWords(heard.value, heard.unit)} = ${shown}`)}
        </p>
        <div class="acts">
          <button type="submit" class="btn first">
            {w.draw.placeIt}
          </button>
          <button type="button" class="btn" onClick={onClose}>
            {w.draw.leaveIt}
          </button>
        </div>
      </form>
    </Sheet>
  );
}

/** A heard channel is taken in the hand, and its place tapped in the drawing. */
export function PlaceStep({ drawing, line }: { readonly drawing: LineDrawing; readonly line: LineView }) {
  const [held, take] = useState<string | null>(null);
  const [asked, ask] = useState<Place | null>(null);
  const [deep, askDepth] = useState<Place | null>(null);
  const acts = useActs();
  /** Channels whose place was tapped, and the gateway has not answered yet. */
  const onTheWay = useRef(new Set<string>());
  const inHand = drawing.heard.find(({ channel }) => channel === held) ?? null;
  const put = (place: Place, full: Full | null = null) => {
    ask(null);
    askDepth(null);
    if (!inHand || onTheWay.current.has(inHand.channel)) return;
    if (full === null && needsDepth(place, inHand.unit)) return askDepth(place);
    const { channel } = inHand;
    onTheWay.current.add(channel);
    void acts
      .runInTurn(place.place, say(w.draw.isPlace, { channel, place: nameOf(place) }), async () => {
        const sent = await placeChannel(say(w.draw.placed, { channel }), {
          channel,
          to: place.place,
          ...(place.channel === null ? {} : { instead: place.channel }),
          ...(full ? { strapping: straight(full) } : {}),
        });
        // Another one that was taken meanwhile stays in the hand.
        if (sent.taken) take((now) => (now === channel ? null : now));
        return sent;
      })
      .finally(() => onTheWay.current.delete(channel));
  };
  const clear = (place: Place) => {
    ask(null);
    void acts.runInTurn(place.place, say(w.draw.noPlace, { channel: place.channel ?? "" }), () =>
      change(say(w.draw.takenAway, { channel: place.channel ?? "" }), cleared(place)),
    );
  };
  return (
    <div ref={acts.host}>
      <h2>{inHand ? say(w.draw.whereHangs, { channel: inHand.channel }) : w.draw.tapChannel}</h2>
      <section class="hand" aria-label={w.draw.heardWithout}>
        {drawing.heard.length === 0 ? (
          <p class="soft">
            {line.nodes.length === 0 ? (
              <>
                {w.point.nothingHeardYet} <a href="#draw/nodes">{w.draw.makeSecret}</a>; {w.draw.appear}
              </>
            ) : (
              w.draw.allPlaced
            )}
          </p>
        ) : (
          <div class="chips">
            {drawing.heard.map(({ channel }) => (
              <button
                type="button"
                key={channel}
                class="chip"
                aria-pressed={channel === held}
                onClick={() => take(channel === held ? null : channel)}
              >
                <b>{channel}</b> {rawOf(line, channel)}
              </button>
            ))}
          </div>
        )}
        {inHand?.fits.length === 0 && (
          <p class="problem">
            {say(w.draw.noFit, { what: `${asSet(inHand.value)} ${inHand.unit ?? w.draw.withoutUnit}` })}
          </p>
        )}
        <ActAnswer acts={acts} />
      </section>
      <Drawing
        drawing={drawing}
        fits={inHand?.fits ?? null}
        onPlace={(place) => (inHand && place.channel === null ? put(place) : ask(place))}
      />
      {deep && inHand && (
        <DepthSheet
          title={nameOf(deep)}
          heard={inHand}
          volumeL={drawing.drums.find(({ id }) => id === deep.of.id)?.volume ?? 0}
          onDone={(full) => put(deep, full)}
          onClose={() => askDepth(null)}
        />
      )}
      {asked && (
        <Sheet title={nameOf(asked)} onClose={() => ask(null)}>
          <p>
            {inHand
              ? say(w.draw.replaces, { channel: asked.channel ?? "", other: inHand.channel })
              : say(w.draw.standsHere, { channel: asked.channel ?? "" })}
          </p>
          <div class="acts">
            {inHand ? (
              <button type="button" class="btn first" onClick={() => put(asked)}>
                {say(w.draw.replace, { channel: asked.channel ?? "" })}
              </button>
            ) : (
              <button type="button" class="btn" onClick={() => clear(asked)}>
                {say(w.draw.takeChannel, { channel: asked.channel ?? "" })}
              </button>
            )}
            <button type="button" class="btn" onClick={() => ask(null)}>
              {w.draw.leaveIt}
            </button>
          </div>
        </Sheet>
      )}
    </div>
  );
}
