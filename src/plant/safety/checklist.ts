/** One thing to have looked at. */
interface SafetyQuestion {
  readonly item: string;
  readonly ask: string;
  readonly caution: string;
}

/** What to have looked at before powder runs; headings without design values. */
export const SAFETY_CHECKLIST: readonly SafetyQuestion[] = [
  {
    item: 'isolation',
    ask: 'How is an explosion kept from running through feed, product and air lines?',
    caution: 'A rotary airlock isolates only if it is certified for it and stops by itself.',
  },
  {
    item: 'venting',
    ask: 'Where do vents open, and who can stand there?',
    caution:
      'Vents throw flame far; indoors they need flame-arresting. Areas are designed by licensed practice.',
  },
  {
    item: 'suppression or strength',
    ask: 'Is a vessel suppressed, or does it hold the explosion?',
    caution: 'Neither can be read from a data sheet of the mill alone.',
  },
  {
    item: 'inerting',
    ask: 'If inert gas is used: is oxygen measured, with a stop that needs no one?',
    caution: 'Inert gas suffocates. Leaks and opened doors end the protection at once.',
  },
  {
    item: 'interlocks',
    ask: 'Does feed stop on low air, high temperature, vibration, overload, lost speed and full collection?',
    caution: 'Start air, wheel, rotor, feed in this order; stop in reverse; test the chain before powder.',
  },
  {
    item: 'doors and run-down',
    ask: 'Do doors stay locked until every rotor stands still?',
    caution: 'A stop button does not stop a rotor; lock out and measure standstill before opening.',
  },
  {
    item: 'tramp material',
    ask: 'What keeps metal and stones out of the mill?',
    caution: 'One bolt is an ignition source and a missile.',
  },
  {
    item: 'earthing',
    ask: 'Are mill, ducts, bags, cages, drums and people bonded and measured?',
    caution: 'One insulated cage or bag clip is a capacitor.',
  },
  {
    item: 'housekeeping',
    ask: 'Where does dust settle in the room, and who removes it?',
    caution: 'The second explosion, of settled dust, kills more than the first.',
  },
];

/** The caution that stands on every page about dust and turning parts. */
export const SAFETY_CAUTION =
  'Screening only. Dust, rotating parts and vents can kill: test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard.';
