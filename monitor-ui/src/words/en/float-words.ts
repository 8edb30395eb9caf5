/** Floats and their tests. */
export const floatWords = {
  methods: {
    lifted: {
      words: "By hand",
      shows: "Shows that the contact and its wire work, not that it floats.",
    },
    bucket: {
      words: "In a bucket",
      shows: "Shows contact, wire and that it floats, not that it sits at the right height.",
    },
    water: { words: "With the drum's water", shows: "Shows everything: contact, wire, float and height." },
  },
  notProved: "not proved yet",
  proved: "proved {time}",
  testDue: "test due",
  dueIn: { one: "test due in {count} day", other: "test due in {count} days" },
  asked: {
    wet: {
      lifted: "Lift the {float} now and hold it up.",
      bucket: "Raise the bucket until the {float} lifts, and hold it there.",
      water: "Let water in until it lifts the {float}. Stay with it.",
    },
    dry: {
      lifted: "Wet seen. Let it go.",
      bucket: "Wet seen. Take the bucket away.",
      water: "Wet seen. Let water out until it hangs again.",
    },
  },
  results: {
    passed: "Dry, wet, dry. Proved.",
    turned: "Swapped: it now reads dry while it hangs. Proved.",
    reversed: "It read wet while it hung, and dry when it was lifted. Nothing was changed.",
    "no-change": "It didn't move. Nothing was changed. Check the float and its wire.",
    stayed: "It stayed wet: it was not seen to fall again. Nothing was changed.",
    flickered: "It flickered: that proves nothing. Nothing was changed. Check its contact and wire.",
    silent: "Its node said nothing. Nothing was changed.",
    cancelled: "Given up. Nothing was changed.",
  },
  steps: { dry: "Dry, as it hangs", wet: "Wet, held up", dryAgain: "Dry again" },
  seenAt: "{step}: seen {time}",
  lostMeanwhile: "No contact with the gateway: what happens now is not seen.",
  waits: "Waits another {duration}",
  giveUp: "Give up",
  hungFree:
    "Did it hang free when you began? Then it is wired the other way round. If it was afloat in a full drum, it is wired right: leave it, and test it when it hangs.",
  turn: "It hung free: swap wet and dry",
  before: "It must hang free before you begin. It now reads:",
  ifSwims: "If it is afloat, wait until the drum is lower.",
  itRings:
    "Once it is wet, the alarm “over its highest level” rings and wakes whoever it calls. Tell them first; reset it afterwards.",
  how: "How",
  begin: "Begin the test",
  title: "{title}: test a float",
  which: "Float",
  testAgain: "Test again",
} as const;
