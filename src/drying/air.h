// Water vapour in air.
#pragma once

namespace leafwright {

// Saturation over water, Pa. Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539; 123 K to 332 K.
double saturation_Pa(double degC);
// The plain formula of WMO-No. 8 (2008), annex on humidity; within 0.3 % of the other between 0 and 30 degC.
double saturation_by_magnus_Pa(double degC);

} // namespace leafwright
