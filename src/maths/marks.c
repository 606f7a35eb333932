#include <math.h>

#include "bandwright/marks.h"

double bw_chord(double diameter, int steps, int count) {
    return diameter * sin(BW_PI * steps / count);
}

int bw_mark_at(int count, int marks, int i) {
    return (int)floor((double)i * count / marks + 0.5);
}
