#include "drying/air.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("saturation pressure by Murphy and Koop") {
    // Q. J. R. Meteorol. Soc. 131 (2005) 1539, reckoned apart.
    CHECK_REL(saturation_Pa(0), 611.2126978, 1e-8);
    CHECK_REL(saturation_Pa(10), 1228.257447, 1e-8);
    CHECK_REL(saturation_Pa(20), 2339.399023, 1e-8);
    CHECK_REL(saturation_Pa(25), 3169.936707, 1e-8);
    CHECK_REL(saturation_Pa(30), 4246.814077, 1e-8);
}

TEST_CASE("it agrees with the steam formulation and the printed handbook table") {
    // IAPWS R7-97 region 4: 2339.214767 Pa at 20 degC; ASHRAE Fundamentals 2017 ch. 1 table 3 within 300 ppm.
    CHECK_REL(saturation_Pa(20), 2339.214767, 3e-4);
    CHECK_REL(saturation_Pa(25), 3169.7, 3e-4);
    CHECK_REL(saturation_Pa(5), 872.6, 3e-4);
    CHECK_REL(saturation_Pa(50), 12351.3, 4e-4);
}

TEST_CASE("the plain formula of the meteorologists") {
    // WMO-No. 8 (2008 ed.), annex on humidity formulae.
    CHECK_REL(saturation_by_magnus_Pa(5), 871.7427468, 1e-8);
    CHECK_REL(saturation_by_magnus_Pa(20), 2332.596022, 1e-8);
    CHECK_REL(saturation_by_magnus_Pa(30), 4233.723916, 1e-8);
    CHECK_REL(saturation_by_magnus_Pa(20), saturation_Pa(20), 4e-3); // 0.28 % low
}
