import type { MathJsInstance } from 'mathjs';
import mathjs from 'mathjs/lib/browser/math.js';

let instance: MathJsInstance | undefined;

/**
 * The program's own instance of the unit and expression library, made at first use. It knows the trade's extra units and
 * is never used to evaluate text: text is parsed, and the tree is checked node by node.
 */
export function isolatedMath(): MathJsInstance {
  if (instance) return instance;
  const math = mathjs.create({});
  math.createUnit('rpm', { definition: '0.016666666666666666 Hz' });
  math.createUnit('cfm', { definition: '1 ft^3/min' });
  math.createUnit('cal', { definition: '4.184 J', prefixes: 'short' });
  instance = math;
  return math;
}
