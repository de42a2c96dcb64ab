export interface DragShape {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}
export function dragShape(phi: number): DragShape {
  return {
    a: Math.exp(2.3288 - 6.4581 * phi + 2.4486 * phi ** 2),
    b: 0.0964 + 0.5565 * phi,
    c: Math.exp(4.905 - 13.8944 * phi + 18.4222 * phi ** 2 - 10.2599 * phi ** 3),
    d: Math.exp(1.4681 + 12.2584 * phi - 20.7322 * phi ** 2 + 15.8855 * phi ** 3),
  };
}
