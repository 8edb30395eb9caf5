/** What a condition says, in each language: by its row's id. */
export interface ConditionText {
  readonly title: string;
  /** An alarm in one line; {subject} stands for what it is about, {node} for a node or the gateway. */
  readonly headline: string;
  readonly cause: string;
  readonly consequence: string;
  /** What to do first. */
  readonly response: string;
}

/** English words of every condition. A row has its id from here: a condition without words is not built. */
export const conditions = {
  "resin-breakthrough": {
    title: "Resin is letting salts through",
    headline: "{subject}: letting salts through",
    cause: "The resin is spent, by-passed, installed the wrong way round, or too small for the flow.",
    consequence: "Water with salts, and soon ammonia, nitrate or silica, runs into the drum.",
    response:
      "Stop the fill and change the resin. Test ammonia before this water is used: spent resin can give back more than the supply holds.",
  },
  "membrane-passing": {
    title: "Membrane is letting salts through",
    headline: "{subject}: letting salts through",
    cause: "The membrane is worn or torn, an O-ring leaks, its reject is shut, or the pressure is too low.",
    consequence: "Water with more salts than it should have runs into the drum.",
    response:
      "Stop the fill. Check pressure and reject flow, flush the membrane, look at its O-rings; then renew it.",
  },
  "drum-not-stopping": {
    title: "Drum does not stop filling",
    headline: "{subject}: did not stop at its float",
    cause: "The stop float hangs, its wire is broken, or the valve behind it does not close.",
    consequence: "The drum overflows in a few minutes: water on the floor, near mains electricity.",
    response:
      "Close the supply valve now. Stay clear of wet sockets and cables. Then look at the float and the valve.",
  },
  "drum-high-high": {
    title: "Drum is over its highest level",
    headline: "{subject}: over its highest level",
    cause: "The stop float or the valve behind it failed, or a second source fills the drum.",
    consequence: "The drum overflows: water on the floor, near mains electricity.",
    response:
      "Close the supply valve now. Stay clear of wet sockets and cables: only the residual-current device protects you there.",
  },
  "floor-wet": {
    title: "Water on the floor",
    headline: "{subject}: wet",
    cause: "A drum ran over, a hose or fitting leaks, or somebody mopped.",
    consequence: "Water near mains electricity, and damage below.",
    response:
      "Keep away from wet sockets and cables: switch off at the board from a dry place. Then close the supply by hand. Mopping: silence it for 30 min.",
  },
  "drum-low": {
    title: "Drum is nearly empty",
    headline: "{subject}: nearly empty",
    cause: "The supply is shut, the inlet is blocked, or more is drawn than comes in.",
    consequence: "No water when it is needed; a heater or pump in it runs dry.",
    response:
      "Switch off heater and pump in the drum first; then look at the supply, the inlet and the start float.",
  },
  "temperature-out": {
    title: "Temperature outside its band",
    headline: "{subject}: outside its temperatures",
    cause: "Cold or warm supply water, a heater or chiller that failed, or a thermometer out of the water.",
    consequence:
      "At a point, compensated conductivity is less certain. In a drum, the water is not what the animals need.",
    response: "Check heater, chiller and thermometer; let the water come to temperature before you use it.",
  },
  "broker-lost": {
    title: "The broker can't be reached",
    headline: "Gateway: message broker gone",
    cause: "The broker or the network to it is down, or it no longer takes the gateway's sign-in.",
    consequence: "No node is heard: nobody watches the water. What nodes and broker keep arrives later.",
    response: "See whether anything is filling; then check the broker and the network.",
  },
  "site-silent": {
    title: "Several nodes fell silent at once",
    headline: "All nodes silent: power or network?",
    cause: "Power or network is out in the room, or the broker is down.",
    consequence: "Nobody watches the water: fills, floats and floors are not seen.",
    response: "See whether anything is filling, and close the supply by hand until the nodes are back.",
  },
  "node-silent": {
    title: "Node is silent",
    headline: "{node}: silent",
    cause: "Its power or network is out, or it hangs.",
    consequence: "What hangs on it is not watched: floats, level and probes say nothing.",
    response: "See whether its drum is filling; then check its power and network, and restart it.",
  },
  "readings-refused": {
    title: "Much of what the node sends is refused",
    headline: "{node}: some messages refused",
    cause: "New firmware, a wrong unit or name, a clock that is wrong, or more messages than are taken.",
    consequence: "What is refused is not measured: whatever hangs on this node may not be watched.",
    response: "Open the page Nodes: it lists each refusal with its name, an example and what to do.",
  },
  "clock-wrong": {
    title: "A clock is wrong or was set",
    headline: "{node}: clock is off",
    cause:
      "The clock of the machine or of the node is or was wrong: no network time, or an empty clock battery.",
    consequence: "Dates from before and after do not fit together; nothing is lost.",
    response:
      "Compare the time on this page with your own, and let machine and node set their clocks by the network. A node that reports how long it has been running needs no clock.",
  },
  "disk-low": {
    title: "The disk is nearly full",
    headline: "Gateway: disk nearly full",
    cause: "Something else fills the disk, or it is too small for what is kept.",
    consequence: "A full disk takes nothing more: nodes keep their messages, and nothing is judged.",
    response: "Make room on the disk of the data folder, or keep less.",
  },
  "series-behind": {
    title: "InfluxDB is behind",
    headline: "Gateway: InfluxDB is behind",
    cause: "InfluxDB or the network to it is down, or it no longer takes the gateway's sign-in.",
    consequence: "Charts and programs that read InfluxDB miss the newest. The gateway has everything.",
    response: "The page Nodes says what InfluxDB answers. What waits is sent by itself.",
  },
  "fill-long": {
    title: "Fill takes longer than usual",
    headline: "{subject}: filling for too long",
    cause:
      "The stop float hangs, the supply is weak, somebody draws from the drum, or a fill by hand was forgotten.",
    consequence: "If the stop has failed, the drum overflows.",
    response: "Look at the drum. If it is nearly full, close the supply by hand.",
  },
  "flow-disagrees": {
    title: "Meter and drum don't agree",
    headline: "{subject}: meter and level don't agree",
    cause:
      "The meter is stuck, blocked or by-passed, the level is stuck, or a tap behind the meter was open.",
    consequence: "Litres are not known, and the witness that is wrong could miss a flood.",
    response: "Fill once and watch meter and drum. Clean the meter; check the level against a mark.",
  },
  "watch-lost": {
    title: "Drum fills unwatched",
    headline: "{subject}: filling unwatched",
    cause:
      "The node of its float, meter or level is silent; or the level stands still while the float calls: supply shut, or level stuck.",
    consequence: "If the stop fails now, nobody is told.",
    response: "Look at the drum until it is full, or close the supply. Then see to the node or the probe.",
  },
  "no-inflow": {
    title: "Drum calls and no water comes",
    headline: "{subject}: asked for water, none came",
    cause: "The supply is shut, a filter is blocked, the valve does not open, or the float hangs in the dry.",
    consequence: "The drum runs low.",
    response: "Open the supply; check filters and valve.",
  },
  "unplanned-inflow": {
    title: "Water comes in that nobody called for",
    headline: "{subject}: water coming in, nobody asked",
    cause: "The valve leaks, a second source fills the drum, or a tap behind the meter is open.",
    consequence: "The drum overflows slowly, or its water changes; salt water is thinned.",
    response: "Close the supply and see whether the inflow ends.",
  },
  "delivery-failed": {
    title: "Messages are not delivered",
    headline: "Messages to {subject} not delivered",
    cause: "The mail server, push service, receiver or node at the other end is away or refuses them.",
    consequence: "This person or sounder isn't told when something is wrong.",
    response: "The page Messages says what the other end answered. Tell them by another way.",
  },
  "heartbeat-missed": {
    title: "A heartbeat is missing",
    headline: "{subject}: heartbeat missing",
    cause: "Whatever sends it has stopped, or the way here is broken.",
    consequence: "What it stands for may not be getting done, and nobody would notice.",
    response: "Check the machine or person that sends it.",
  },
  "float-disagrees": {
    title: "Float contradicts the rest of its drum",
    headline: "{subject}: contradicts the rest of its drum",
    cause: "The float is stuck, its wire is broken or shorted, or it was moved; or the level is wrong.",
    consequence: "The fill is not stopped, or stopped too early; a flood may go unnoticed.",
    response:
      "Look into the drum. Free the float, check its wire, check the level against a mark; then test the float.",
  },
  "float-stuck": {
    title: "Float has not moved",
    headline: "{subject}: hasn't moved",
    cause: "It is stuck, fouled or tangled, its wire is broken or shorted, or it hangs higher than thought.",
    consequence: "It stops nothing and warns of no flood.",
    response:
      "Stay with fills until it works. Free and clean it, check its wire, then test it from the drum's card.",
  },
  "float-chatter": {
    title: "Float flickers",
    headline: "{subject}: flickering",
    cause: "Waves from the inlet or a pump reach the float, or a contact or plug is failing.",
    consequence: "The valve opens and shuts in quick succession and wears out; a failing contact will fail.",
    response:
      "See whether the inlet stirs the water at the float: shield it with a pipe. If not, renew contact and plug.",
  },
  "trip-drift": {
    title: "Float trips at another height than it was set to",
    headline: "{subject}: trips at another height than it was set to",
    cause: "The float slips on its rod or cord, or grows heavy; or the level drifts.",
    consequence: "It stops later and later, until the drum overflows before it does.",
    response:
      "Fasten and clean the float, check the level against a mark, then test the float from the drum's card.",
  },
  "float-unproven": {
    title: "Float is due for a test",
    headline: "{subject}: due for a test",
    cause: "Nobody has tested it for a long time, and no good fill has shown that it works.",
    consequence: "A float that has failed is found out on the day it is needed.",
    response: "Test it from the drum's card: by hand, in a bucket, or with the drum's own water.",
  },
  frost: {
    title: "Frost",
    headline: "{subject}: frost",
    cause: "The room or the pipe is cold: a heater that failed, an open door, a cold night.",
    consequence:
      "A frozen pipe or housing bursts; it floods when it thaws, and no float stops the water from a burst.",
    response:
      "Warm the room, let a little water run. If a pipe is frozen already, close the supply before it thaws.",
  },
  "drum-off-target": {
    title: "Drum is not as it should be",
    headline: "{subject}: not as it should be",
    cause:
      "Bad water came in, salt or water was added wrongly, water evaporated, or the probe in the drum is dirty.",
    consequence: "The water is not what the animals need.",
    response: "Test it by hand before it is used. Dilute it, add salt, or dump it; then look for the cause.",
  },
  "back-flow": {
    title: "Water is coming back",
    headline: "{subject}: water is coming back",
    cause:
      "The hose reaches into the drum and the supply lost its pressure: the drum is being siphoned back.",
    consequence: "Salt water in the resin, in the pipe, and perhaps in the drinking water of the house.",
    response:
      "Take the hose out of the water and close the supply. Don't drink from this pipe until it has been flushed. The resin is spent.",
  },
  "fill-slow": {
    title: "Fills are slow",
    headline: "{subject}: filling slowly",
    cause: "The sediment filter is clogged, the supply's pressure is low, or a membrane is cold or fouled.",
    consequence: "Fills take longer; a carbon block may clog next.",
    response: "Check the sediment filter and the pressure before it.",
  },
  "drum-leaking": {
    title: "Drum is losing water",
    headline: "{subject}: losing water",
    cause: "A tap or fitting drips, the drum has a crack, or water siphons back through the hose.",
    consequence: "Water on the floor, and less in the drum than is counted on.",
    response: "Look under the drum and along its hoses, with power off where it is wet.",
  },
  "probe-implausible": {
    title: "Probe can't be right",
    headline: "{subject}: probe can't be right",
    cause: "Its cable is open or shorted, it hangs in air, it is out of its range, or it is broken.",
    consequence: "What it should watch is not watched.",
    response: "Check plug and cable, rinse the probe, dip it into a water that you know.",
  },
  "probe-unproven": {
    title: "Probe not proved lately",
    headline: "{subject}: probe not proved lately",
    cause: "The water has been this good for a week, or the probe is dead and says nothing.",
    consequence: "Pure water and a dead probe look the same: this water counts as not watched.",
    response: "Dip the probe into tap water or a standard for a moment: it must rise.",
  },
  "probe-flat": {
    title: "Probe stuck on one value",
    headline: "{subject}: probe stuck on one value",
    cause: "The probe sits in trapped water, its cable or its node has hung, or it is coated.",
    consequence: "It keeps saying what was once true, whatever water runs.",
    response: "Rinse it, dip it into another water or a standard, and see whether it follows.",
  },
  "work-forgotten": {
    title: "Work not reported as finished",
    headline: "{subject}: is the work finished?",
    cause: "The work is taking longer, or nobody pressed Done.",
    consequence: "What the work silenced will ring again.",
    response: "Say that you are done, or that you go on.",
  },
} as const satisfies Readonly<Record<string, ConditionText>>;

/** Every condition that has words. */
export type ConditionId = keyof typeof conditions;
