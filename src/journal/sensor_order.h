/* sensor_order.h - the samples of a log put in order
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_SENSOR_ORDER_H
#define AB_JOURNAL_SENSOR_ORDER_H

#include <afterboil/sensor.h>

/* Sorts the samples by time where disorder says so, averages those of one time, and counts duplicates and gaps. */
void sensor_put_in_order(struct ab_sensor *o);

#endif
