/* A flight off an edge, frame by frame, and how hard it comes down: Loamline from C. The numbers are invented. */
#include <stdio.h>
#include "loamline.h"

#define TRY(call) \
    if ((call) != LOAMLINE_STATUS_OK) { fprintf(stderr, "%s\n", loamline_last_error()); return 1; }

int main(void) {
    LoamlineAir air;
    LoamlineRider rider;
    TRY(loamline_air_default(&air));
    TRY(loamline_rider_default(&rider));

    /* Level ground, and a landing whose face begins 4 m out and falls at 20 degrees. */
    const double origin[3] = {0.0, 0.0, 0.0};
    const LoamlineLanding landing = {{4.0, 0.0}, 0.0, 0.349, 4.0, 3.0};
    LoamlineGround *level, *built;
    TRY(loamline_ground_plane(origin, 0.0, 0.0, &level));
    TRY(loamline_ground_with_landing(level, &landing, &built));

    const LoamlineLaunch launch = {{0.0, 0.0, 2.8}, {8.0, 0.0, 1.2}};
    LoamlineFlight *flight;
    LoamlineTouchdown touchdown;
    TRY(loamline_flight(&launch, built, &rider, &air, &flight));
    TRY(loamline_flight_touchdown(flight, &touchdown));
    for (int frame = 0; frame / 10.0 < touchdown.time; frame++) {
        double at[3];
        TRY(loamline_flight_position(flight, frame / 10.0, at));
        printf("%.1f s  x %.2f m  z %.2f m\n", frame / 10.0, at[0], at[2]);
    }
    LoamlineLoads loads;
    TRY(loamline_loads(&rider, touchdown.fall_height, 0.349, &loads));
    printf("%s at x %.2f m, fall height %.2f m, %.1f body weights\n",
           touchdown.outcome == LOAMLINE_OUTCOME_CAUGHT ? "caught" : "not caught", touchdown.mark[0],
           touchdown.fall_height, loads.peak_bodyweights);

    /* What cannot be is told, never computed. */
    rider.mass = -1.0;
    LoamlineFlight *none = NULL;
    if (loamline_flight(&launch, built, &rider, &air, &none) == LOAMLINE_STATUS_BAD_INPUT)
        printf("refused: %s\n", loamline_last_error());

    loamline_flight_free(flight);
    loamline_ground_free(built);
    loamline_ground_free(level);
    return 0;
}
