/* Prints how this compiler lays out what crosses: size, then the place of each field, a struct a line; then each code. */
#include <stdio.h>
#include "loamline.h"

#define PLACE(type, field) printf(" %zu", offsetof(type, field))

int main(void) {
    printf("%zu", sizeof(LoamlineAir));
    PLACE(LoamlineAir, elevation); PLACE(LoamlineAir, temperature_c); PLACE(LoamlineAir, density);
    PLACE(LoamlineAir, wind); PLACE(LoamlineAir, gravity);
    printf("\n%zu", sizeof(LoamlineRider));
    PLACE(LoamlineRider, mass); PLACE(LoamlineRider, cda); PLACE(LoamlineRider, crr); PLACE(LoamlineRider, grip);
    PLACE(LoamlineRider, com_height); PLACE(LoamlineRider, com_height_landing); PLACE(LoamlineRider, wheelbase);
    PLACE(LoamlineRider, wheel_radius);
    printf("\n%zu", sizeof(LoamlineLaunch));
    PLACE(LoamlineLaunch, position); PLACE(LoamlineLaunch, velocity);
    printf("\n%zu", sizeof(LoamlineLanding));
    PLACE(LoamlineLanding, crest); PLACE(LoamlineLanding, heading); PLACE(LoamlineLanding, slope);
    PLACE(LoamlineLanding, length); PLACE(LoamlineLanding, width);
    printf("\n%zu", sizeof(LoamlineTouchdown));
    PLACE(LoamlineTouchdown, outcome); PLACE(LoamlineTouchdown, time); PLACE(LoamlineTouchdown, mark);
    PLACE(LoamlineTouchdown, velocity); PLACE(LoamlineTouchdown, normal); PLACE(LoamlineTouchdown, normal_speed);
    PLACE(LoamlineTouchdown, fall_height); PLACE(LoamlineTouchdown, angle); PLACE(LoamlineTouchdown, distance);
    PLACE(LoamlineTouchdown, drop);
    printf("\n%zu", sizeof(LoamlineLoads));
    PLACE(LoamlineLoads, peak_force); PLACE(LoamlineLoads, peak_bodyweights); PLACE(LoamlineLoads, peak_time);
    PLACE(LoamlineLoads, mean_bodyweights); PLACE(LoamlineLoads, legs_bottomed); PLACE(LoamlineLoads, suspension_bottomed);
    printf("\n%zu %d %d %d %d %d %d", sizeof(LoamlineStatus), LOAMLINE_STATUS_OK, LOAMLINE_STATUS_NULL_POINTER,
           LOAMLINE_STATUS_BAD_INPUT, LOAMLINE_STATUS_NO_RESULT, LOAMLINE_STATUS_FILE, LOAMLINE_STATUS_FAULT);
    printf("\n%zu %d %d %d %d %d %d %d %d %d\n", sizeof(LoamlineOutcome), LOAMLINE_OUTCOME_LANDED, LOAMLINE_OUTCOME_CAUGHT,
           LOAMLINE_OUTCOME_SHORT, LOAMLINE_OUTCOME_LONG, LOAMLINE_OUTCOME_WIDE, LOAMLINE_OUTCOME_ROLLED_OFF,
           LOAMLINE_OUTCOME_OFF_SURVEY, LOAMLINE_OUTCOME_NO_TOUCHDOWN, LOAMLINE_OUTCOME_BAD_LAUNCH);
    return 0;
}
