import { FRAGMENT_LAWS } from '../../model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../model/breakage/selection/index.ts';
import { FEED_LAWS } from '../../model/psd/feed/index.ts';
import { EFFICIENCY_LAWS } from '../../model/wheel/efficiency/index.ts';

export { EFFICIENCY_LAWS, FEED_LAWS, FRAGMENT_LAWS, SELECTION_LAWS };
