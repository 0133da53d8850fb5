using Seamwright.GroundTruth;

return Commands.Root().Parse(args).Invoke();
